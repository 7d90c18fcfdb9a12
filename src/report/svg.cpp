#include "report/svg.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/plain_text.h"
#include "base/units.h"

namespace graftwright {
namespace {

std::string coordinates(const std::vector<CanvasPoint>& points) {
    std::string out;
    for (const CanvasPoint& p : points) {
        if (!out.empty()) out += ' ';
        out += fmt::format("{},{}", svg_number(p.x), svg_number(p.y));
    }
    return out;
}

std::string stroke(const SvgPen& pen) {
    if (pen.width <= 0) return R"( stroke="none")";
    std::string out = fmt::format(R"( stroke="{}" stroke-width="{}")", pen.colour, svg_number(pen.width));
    if (!pen.dash.empty()) out += fmt::format(R"( stroke-dasharray="{}")", pen.dash);
    return out;
}

// The length of the character at `at`, or 0 where the bytes are none or a page may not hold it.
std::size_t allowed_character(std::string_view text, std::size_t at) {
    const auto [code, length] = utf8_at(text, at);
    const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
    const bool no_character = (code >= 0xFDD0 && code <= 0xFDEF) || (code & 0xFFFEU) == 0xFFFE;
    return control || no_character || turns_text(code) ? 0 : length;
}

}  // namespace

std::string escaped(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const char c = text[i];
        const std::size_t length = c == '\n' || c == '\t' ? 1 : allowed_character(text, i);
        if (length == 0) {
            out += kReplacement;
            ++i;
            continue;
        }
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\'':
                out += "&#39;";
                break;
            default:
                out += text.substr(i, length);
        }
        i += length;
    }
    return out;
}

std::string svg_number(double value) {
    std::string out = fmt::format("{:.2f}", value);
    while (out.back() == '0') out.pop_back();
    if (out.back() == '.') out.pop_back();
    return out == "-0" ? "0" : out;
}

void SvgCanvas::line(CanvasPoint from, CanvasPoint to, const SvgPen& pen) {
    body_ += fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>\n", svg_number(from.x), svg_number(from.y),
                         svg_number(to.x), svg_number(to.y), stroke(pen));
}

void SvgCanvas::circle(CanvasPoint centre, double radius, const std::string& fill, const SvgPen& pen) {
    body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"{}/>\n", svg_number(centre.x),
                         svg_number(centre.y), svg_number(radius), fill, stroke(pen));
}

void SvgCanvas::rectangle(CanvasPoint corner, double width, double height, const std::string& fill, const SvgPen& pen) {
    body_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\"{}/>\n", svg_number(corner.x),
                         svg_number(corner.y), svg_number(width), svg_number(height), fill, stroke(pen));
}

void SvgCanvas::polygon(const std::vector<CanvasPoint>& points, const std::string& fill, const SvgPen& pen) {
    if (points.empty()) return;
    body_ += fmt::format("<polygon points=\"{}\" fill=\"{}\"{}/>\n", coordinates(points), fill, stroke(pen));
}

void SvgCanvas::polyline(const std::vector<CanvasPoint>& points, const SvgPen& pen) {
    if (points.empty()) return;
    body_ += fmt::format("<polyline points=\"{}\" fill=\"none\" stroke-linejoin=\"round\"{}/>\n", coordinates(points),
                         stroke(pen));
}

void SvgCanvas::loops(const std::vector<std::vector<CanvasPoint>>& loops, const std::string& fill, const SvgPen& pen) {
    std::string way;
    for (const auto& loop : loops) {
        if (!loop.empty()) way += "M" + coordinates(loop) + "Z";
    }
    if (way.empty()) return;
    body_ += fmt::format("<path d=\"{}\" fill=\"{}\" fill-rule=\"evenodd\" stroke-linejoin=\"round\"{}/>\n", way, fill,
                         stroke(pen));
}

void SvgCanvas::arrow(CanvasPoint from, CanvasPoint to, const SvgPen& pen, double head) {
    const double dx = to.x - from.x, dy = to.y - from.y, length = std::hypot(dx, dy);
    if (length < 1e-9) return;
    const double size = std::min(head, 0.6 * length), ux = dx / length, uy = dy / length;
    const CanvasPoint base{to.x - size * ux, to.y - size * uy};
    line(from, base, pen);
    polygon({to,
             {base.x - 0.42 * size * uy, base.y + 0.42 * size * ux},
             {base.x + 0.42 * size * uy, base.y - 0.42 * size * ux}},
            pen.colour, {pen.colour, 0.0, ""});
}

void SvgCanvas::text(CanvasPoint baseline, std::string_view words, const Lettering& lettering) {
    if (words.empty()) return;
    const char* const anchor = lettering.anchor == Lettering::Anchor::start    ? "start"
                               : lettering.anchor == Lettering::Anchor::middle ? "middle"
                                                                               : "end";
    std::string look = fmt::format(R"(font-size="{}" text-anchor="{}" fill="{}")", svg_number(lettering.size), anchor,
                                   lettering.colour);
    if (lettering.bold) look += R"( font-weight="700")";
    if (lettering.halo) {
        look += R"( stroke="#ffffff" stroke-width="3" stroke-linejoin="round" paint-order="stroke")";
    }
    body_ += fmt::format("<text x=\"{}\" y=\"{}\" {}>{}</text>\n", svg_number(baseline.x), svg_number(baseline.y), look,
                         escaped(words));
}

double SvgCanvas::paragraph(CanvasPoint baseline, std::string_view words, double width, const Lettering& lettering,
                            double leading) {
    for (const std::string& one : broken_into_lines(words, lettering.size, width)) {
        text(baseline, one, lettering);
        baseline.y += leading;
    }
    return baseline.y;
}

void SvgCanvas::begin_clip(const std::string& id, CanvasPoint centre, double radius) {
    body_ += fmt::format(
        "<clipPath id=\"{}\"><circle cx=\"{}\" cy=\"{}\" r=\"{}\"/></clipPath>\n<g clip-path=\"url(#{})\">\n", id,
        svg_number(centre.x), svg_number(centre.y), svg_number(radius), id);
}

void SvgCanvas::end_clip() { body_ += "</g>\n"; }

void SvgCanvas::place(const SvgCanvas& other, CanvasPoint at, double scale) {
    body_ += fmt::format("<g transform=\"translate({} {}) scale({:.4f})\">\n{}</g>\n", svg_number(at.x),
                         svg_number(at.y), scale, other.body());
}

double typical_width(std::string_view words, double size) {
    const auto characters = std::count_if(words.begin(), words.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;  // not the later bytes of UTF-8
    });
    constexpr double kMeanOverSize = 0.56;
    return kMeanOverSize * size * static_cast<double>(characters);
}

std::vector<std::string> broken_into_lines(std::string_view words, double size, double width) {
    std::vector<std::string> lines(1);
    for (std::size_t i = 0; i <= words.size();) {
        const std::size_t end = std::min(words.find_first_of(" \n", i), words.size());
        const std::string_view word = words.substr(i, end - i);
        i = end + 1;
        if (word.empty()) continue;
        std::string longer = lines.back() + (lines.back().empty() ? "" : " ") + std::string(word);
        if (!lines.back().empty() && typical_width(longer, size) > width) {
            lines.emplace_back(word);
        } else {
            lines.back() = std::move(longer);
        }
    }
    return lines;
}

CanvasPoint around(CanvasPoint centre, double radius, double angle_deg) {
    const double angle = rad_from_deg(angle_deg);
    return {centre.x + radius * std::cos(angle), centre.y - radius * std::sin(angle)};
}

}  // namespace graftwright
