#!/usr/bin/env python3
"""check_page.py PAGE.html: strict HTML5 (html5lib, every parse error counts), inline SVG in its own namespace,
no script, every id once. Prints what is wrong, a line each; exit 1 if anything is."""
import sys

import html5lib

HTML, SVG = "{http://www.w3.org/1999/xhtml}", "{http://www.w3.org/2000/svg}"


def faults(text):
    parser = html5lib.HTMLParser(tree=html5lib.getTreeBuilder("etree"))
    tree = parser.parse(text)
    for place, code, detail in parser.errors:
        yield f"line {place[0]}, column {place[1]}: {code} {detail or ''}"
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    yield from (f"id {name!r} stands twice" for name in {n for n in ids if ids.count(n) > 1})
    for tag in ("script", "iframe", "object", "link", "img", "form"):
        yield from (f"<{tag}> has no place here" for _ in tree.iter(HTML + tag))
        yield from (f"<svg:{tag}> has no place here" for _ in tree.iter(SVG + tag))
    for element in tree.iter():
        yield from (f"handler {name}" for name in element.keys() if name.lower().startswith("on"))
    pictures = list(tree.iter(SVG + "svg"))
    if not pictures:
        yield "no picture"
    for picture in pictures:
        for child in picture.iter():
            if not str(child.tag).startswith(SVG):
                yield f"{child.tag} inside a picture"
        if picture.find(SVG + "title") is None or picture.find(SVG + "desc") is None:
            yield "a picture without words for who cannot see it"


if __name__ == "__main__":
    with open(sys.argv[1], encoding="utf-8") as page:
        found = list(faults(page.read()))
    for fault in found:
        print(fault)
    sys.exit(1 if found else 0)
