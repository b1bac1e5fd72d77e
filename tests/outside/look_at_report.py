#!/usr/bin/env python3
"""Looks at reports in a real browser: Chromium, headless.

    look_at_report.py PINBOSS [FOLDER]

Makes the report of a shipped case with two pictures, and that of a case whose every text would be markup if it could.
Each must ask for nothing, run nothing, fit a telephone and both papers, be readable on a light and a dark screen, and tell
its structure to a screen reader. Pictures of it and the printed pages are left in FOLDER, if one is named.
"""

import json
import pathlib
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import unicodedata
import zlib

import pypdf
from playwright.sync_api import sync_playwright

CASE = pathlib.Path("cases/quarry_dozer_two_faults.yaml")
# Contrast of text to what is behind it: WCAG 2.2, success criterion 1.4.3.
LEAST_CONTRAST = 4.5
# Width of a narrow telephone, CSS pixels.
TELEPHONE = 360
# Height of letters in a drawing, CSS pixels, that can still be read on it.
LEAST_LETTERS = 10
# Width of the paper less its margins, CSS pixels: 210 mm and 8.5 in, less 32 mm.
PAPERS = {"A4": 673, "Letter": 695}
HOSTILE = "</title></style><script>window.ran=1</script><img src=x onerror='window.ran=1'> http://nowhere.example/ \u202e{{7*7}}"

CONTRAST = """() => {
  const parse = text => (text.match(/[\\d.]+/g) || []).map(Number);
  const light = ([r, g, b]) => {
    const [x, y, z] = [r, g, b].map(v => { v /= 255; return v <= .04045 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4; });
    return .2126 * x + .7152 * y + .0722 * z;
  };
  const behind = element => {
    for (let at = element; at; at = at.parentElement) {
      const colour = parse(getComputedStyle(at).backgroundColor);
      if (colour.length === 3 || colour[3] > .99) return colour;
    }
    return [255, 255, 255];
  };
  const found = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const element = walker.currentNode.parentElement;
    if (!walker.currentNode.textContent.trim() || ['TITLE', 'title', 'desc', 'STYLE'].includes(element.tagName)) continue;
    const style = getComputedStyle(element);
    const ink = parse(element.ownerSVGElement ? style.fill : style.color);
    const [a, b] = [light(ink), light(behind(element))].sort((x, y) => y - x);
    found.push([(a + .05) / (b + .05), walker.currentNode.textContent.trim().slice(0, 40)]);
  }
  return found.sort((x, y) => x[0] - y[0])[0];
}"""

# What sticks out to the right of the page.
STICKS_OUT = """() => [...document.querySelectorAll('body *')]
  .filter(it => !it.classList.contains('skip') && it.getBoundingClientRect().right > innerWidth + 1)
  .map(it => it.tagName + ' ' + it.textContent.slice(0, 40))"""

# The smallest letters of the drawings, and what they say.
LETTERS = """() => [...document.querySelectorAll('.track text')]
  .map(it => [parseFloat(getComputedStyle(it).fontSize) * it.ownerSVGElement.getScreenCTM().a, it.textContent])
  .sort((x, y) => x[0] - y[0])[0]"""


# What must not stand alone at the end of a sheet: headings, and the words before a list or a picture. The first heading is the
# title, whose words can stand in the text as well.
LEADS = "() => [...document.querySelectorAll('h2, h3, h4, .lead')].map(it => it.textContent.replace(/\\s+/g, ' ').trim())"


def picture(path, width, height):
    """A drawn picture of nothing: stripes, as PNG (ISO/IEC 15948)."""
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = b"".join(b"\0" + bytes(90 + 60 * ((x // 40 + y // 40) % 3) for x in range(width)) for y in range(height))
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))


def cases(folder):
    """A plain case with pictures, and a hostile one."""
    picture(folder / "flange.png", 1600, 900)
    picture(folder / "roller.png", 600, 800)
    text = CASE.read_text(encoding="utf-8")
    pictured = text.replace("    not_possible:", "    photos: {flange_worn: flange.png}\n    not_possible:")
    pictured = pictured.replace("roller_hot: yes}}", "roller_hot: yes}, photos: {oil_streak: roller.png}}")
    assert pictured.count("photos:") == 2
    (folder / "plain.yaml").write_text(pictured, encoding="utf-8")
    quoted = json.dumps(HOSTILE)
    hostile = pictured.replace("limestone quarry dozer, spring walk-round", quoted).replace("tag: Q7", f"tag: {quoted}")
    hostile = hostile.replace('"M. K."', quoted).replace('"caked with rock dust"', quoted)
    assert hostile.count(quoted) == 4
    (folder / "hostile.yaml").write_text(hostile, encoding="utf-8")
    return ["plain", "hostile"]


def loaded(browser, page_file, **how):
    """The page, with what it asked for and what it ran."""
    page = browser.new_page(**how)
    asked, said = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("dialog", lambda dialog: (said.append(dialog.message), dialog.dismiss()))
    page.on("console", lambda message: said.append(message.text))
    page.goto(page_file.as_uri())
    outside = [url for url in asked if url != page_file.as_uri() and not url.startswith("data:image/jpeg;base64,")]
    assert not outside, f"it asks for {outside}"
    assert not said, f"it says {said}"
    assert page.evaluate("() => window.ran === undefined && document.scripts.length === 0"), "something ran"
    assert page.evaluate("() => [...document.images].every(it => it.complete && it.naturalWidth > 0)"), "a picture is broken"
    return page


def screen(browser, page_file, folder):
    for scheme in ["light", "dark"]:
        page = loaded(browser, page_file, color_scheme=scheme, viewport={"width": 900, "height": 1200})
        contrast, words = page.evaluate(CONTRAST)
        assert contrast >= LEAST_CONTRAST, f"{scheme}: “{words}” stands at {contrast:.2f} to 1"
        print(f"{page_file.stem}, {scheme}: least contrast {contrast:.2f} to 1")
        page.screenshot(path=folder / f"{page_file.stem}_{scheme}.png", full_page=True)
        page.close()


def telephone(browser, page_file, folder):
    page = loaded(browser, page_file, viewport={"width": TELEPHONE, "height": 740})
    wide = page.evaluate("() => document.documentElement.scrollWidth")
    assert wide <= TELEPHONE, f"{wide} pixels wide on a telephone: {page.evaluate(STICKS_OUT)}"
    letters, words = page.evaluate(LETTERS)
    assert letters >= LEAST_LETTERS, f"“{words}” is drawn {letters:.1f} pixels high on a telephone"
    page.screenshot(path=folder / f"{page_file.stem}_telephone.png", full_page=True)
    page.close()


def keyboard(browser, page_file):
    page = loaded(browser, page_file)
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.className") == "skip", "the first stop is not the skip link"
    page.keyboard.press("Enter")
    assert page.evaluate("() => document.activeElement.id") == "report", "the skip link does not lead to the report"
    page.close()


def reader(browser, page_file):
    """What a screen reader is told, by the browser's own accessibility tree."""
    page = loaded(browser, page_file)
    tree = page.context.new_cdp_session(page).send("Accessibility.getFullAXTree")["nodes"]
    told = [
        (node["role"]["value"], node.get("name", {}).get("value", ""), node)
        for node in tree if not node["ignored"] and "role" in node
    ]
    roles = [role for role, _, _ in told]
    for landmark in ["banner", "main", "navigation", "contentinfo"]:
        assert roles.count(landmark) == 1, f"{roles.count(landmark)} of {landmark}"
    levels = [
        next(own["value"]["value"] for own in node["properties"] if own["name"] == "level")
        for role, _, node in told if role == "heading"
    ]
    assert levels[0] == 1 and levels.count(1) == 1, levels
    assert all(after <= before + 1 for before, after in zip(levels, levels[1:])), levels
    pictures = [name for role, name, _ in told if role in ("image", "img")]
    assert len(pictures) >= 4 and all(pictures), f"a picture has no name: {pictures}"
    assert "columnheader" in roles and "rowheader" in roles, "tables have no heads"
    print(f"{page_file.stem}, screen reader: {len(levels)} headings, {len(pictures)} pictures with their names")
    page.close()


def last_line(text):
    """The last line of a printed sheet above its foot."""
    lines = [" ".join(line.split()) for line in unicodedata.normalize("NFKC", text).splitlines()]
    lines = [line for line in lines if line and not re.fullmatch(r"case \w+, rules \w+|\d+ of \d+", line)]
    return lines[-1] if lines else ""


def paper(browser, page_file, folder):
    for name, width in PAPERS.items():
        page = loaded(browser, page_file, viewport={"width": width, "height": 900}, color_scheme="dark")
        page.emulate_media(media="print")
        leads = page.evaluate(LEADS)
        out = page.evaluate(STICKS_OUT)
        assert not out, f"{name}: cut off at the right: {out}"
        page.emulate_media(media=None)
        printed = folder / f"{page_file.stem}_{name}.pdf"
        page.pdf(path=printed, format=name, print_background=False, prefer_css_page_size=False)
        pages = [it.extract_text() for it in pypdf.PdfReader(printed).pages]
        assert pages and all(text.strip() for text in pages), f"{name}: an empty page"
        assert "About this report" in pages[-1] or "About this report" in pages[-2], f"{name}: the end is missing"
        feet = [f"{number} of {len(pages)}" for number in range(1, len(pages) + 1)]
        ends = [last_line(text) for text in pages[:-1]]
        alone = [words for words in ends if any(lead.endswith(words) or len(words) > 30 and words in lead for lead in leads)]
        assert not alone, f"{name}: alone at the end of a sheet: {alone}"
        missing = [foot for foot, text in zip(feet, pages) if foot not in text]
        assert not missing, f"{name}: no foot on {missing}"
        assert all("rules " in text and "case " in text for text in pages), f"{name}: a page without digests"
        print(f"{page_file.stem}, {name}: {len(pages)} pages")
        page.close()


def main():
    pinboss = pathlib.Path(sys.argv[1]).resolve()
    chromium = shutil.which("chromium")
    if chromium is None:
        sys.exit("look_at_report: there is no `chromium` on the path; install it (Debian: apt-get install chromium)")
    with tempfile.TemporaryDirectory() as made, sync_playwright() as play:
        folder = pathlib.Path(sys.argv[2] if len(sys.argv) > 2 else made).resolve()
        folder.mkdir(parents=True, exist_ok=True)
        browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        for name in cases(folder):
            case, page_file = folder / f"{name}.yaml", folder / f"{name}.html"
            subprocess.run([pinboss, "report", case, "-o", page_file], check=True)
            subprocess.run([pinboss, "report", "verify", page_file, case], check=True)
            screen(browser, page_file, folder)
            telephone(browser, page_file, folder)
            keyboard(browser, page_file)
            reader(browser, page_file)
            paper(browser, page_file, folder)
        browser.close()


if __name__ == "__main__":
    main()
