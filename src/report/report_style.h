// The report's style sheet, written into the page. Screen: sheets of up to 1180 px, beside each other where two
// fit; print: one sheet a page of A4. One size (`font-size` of .sheet) scales words, none below 0.95 of it: 7 pt in
// print. Pictures scale by their width.
#pragma once

namespace graftwright {

inline constexpr const char* kReportStyle = R"css(
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0; background: #dfe3e8; color: #1d2126;
  font-family: Inter, 'Helvetica Neue', Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif; font-variant-numeric: tabular-nums; }
main { display: flex; flex-wrap: wrap; justify-content: center; align-items: flex-start; gap: 24px; padding: 24px; }
.sheet { background: #fff; width: 1230px; max-width: 100%; padding: 26px 25px 18px; font-size: 14.5px;
  line-height: 1.38; border-top: 7px solid #123a73; }
header { display: flex; justify-content: space-between; gap: 24px; align-items: flex-start; }
h1 { font-size: 1.75em; margin: 0 0 .1em; line-height: 1.15; overflow-wrap: anywhere;
  max-height: 4.7em; overflow: hidden; }
h2 { font-size: 1.1em; margin: .9em 0 .25em; border-bottom: 1.5px solid #1d2126; padding-bottom: .1em; }
p { margin: .35em 0; }
.who { margin: 0; overflow-wrap: anywhere; }
sup { line-height: 0; font-size: .95em; vertical-align: .3em; }
dl { flex: 0 0 42%; align-content: start; display: grid; grid-template-columns: auto auto; gap: 0 .8em; margin: 0; font-size: .95em; }
dt { color: #565d66; } dd { margin: 0; overflow-wrap: anywhere; max-height: 5.6em; overflow: hidden; }
.caution { border: 2px solid #1d2126; padding: .35em .7em; margin: .7em 0; font-size: .97em; }
.advice { font-size: 1.12em; font-weight: 600; margin: .5em 0 0; }
.verdict { margin: .2em 0 0; }
.panels { display: grid; grid-template-columns: repeat(3, minmax(0, 1fr)); gap: 8px 20px; margin-top: .9em; }
svg { display: block; width: 100%; height: auto; }
table { border-collapse: collapse; width: 100%; font-size: .95em; line-height: 1.25; }
small { font-size: 1em; color: #3d434b; }
th, td { text-align: right; padding: .16em .4em; border-bottom: 1px solid #c3c8ce; vertical-align: top; font-weight: 400; }
thead th { border-bottom: 1.5px solid #1d2126; color: #565d66; vertical-align: bottom; }
tbody th, .words, thead th:first-child { text-align: left; }
.readings td:nth-child(2), .readings th:nth-child(2) { text-align: left; color: #565d66; }
.readings td:nth-child(3) { font-weight: 700; }
.wide { grid-column: span 2; }
.marks { line-height: 1.15; }
.marks td, .marks tbody th { padding: .05em .5em; white-space: nowrap; }
.marks .words { color: #3d434b; }
h2 { break-after: avoid; }
.bites tbody th, .bites thead th:first-child { text-align: right; font-weight: 700; }
.bites { line-height: 1.15; }
.bites td { padding: .08em .4em; white-space: nowrap; }
.bites tbody th { padding: .08em .4em; }
.bites .words { white-space: normal; }
.halves { display: grid; grid-template-columns: 1fr 1fr; gap: 14px; }
.halves table { line-height: 1.06; letter-spacing: -.01em; }
.halves tr > * { padding: 0 .14em; }
.halves .words, .halves td:nth-child(3) { padding-left: .5em; }
.limits { margin: .3em 0 0; padding: 0; list-style: none; font-size: .95em; line-height: 1.2; }
.limits li { margin-bottom: .1em; }
.sources, .note, footer { font-size: .95em; line-height: 1.2; color: #3d434b; }
footer { border-top: 1px solid #1d2126; margin-top: 1em; padding-top: .4em; display: flex; gap: 2em;
  justify-content: space-between; }
footer span:last-child { flex: 0 0 auto; max-width: 55%; text-align: right; }
@media screen and (max-width: 900px) { .halves { grid-template-columns: 1fr; } .panels { grid-template-columns: 1fr; } .wide { grid-column: auto; }
  .sheet { overflow-x: auto; padding: 14px; } main { padding: 8px; } header, footer { flex-direction: column; } }
@page { size: A4; margin: 8mm 10mm; }
@media print {
  body { background: #fff; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  main { display: block; padding: 0; }
  .sheet { width: auto; padding: 0; border-top-width: 4px; padding-top: 2mm; font-size: 7.4pt; break-inside: avoid;
    break-after: page; }
  h2 { margin: .5em 0 .15em; } p { margin: .2em 0; } footer { margin-top: .4em; padding-top: .2em; }
  .sheet:last-child { break-after: auto; }
  .panels { gap: 1mm 3mm; }
  .halves { gap: 3mm; }
}
)css";

}  // namespace graftwright
