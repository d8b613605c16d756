#!/usr/bin/env python3
"""Looks at the report as a reader does: PDF text, and a real browser at several widths, printed, and with scripting off.

Run by .ci/run after the program is built: `python3 tests/browser/report_pages.py target/debug/dewledger`.
Needs chromium and poppler-utils of Debian; where they are missing it asks apt-get for them, as root. Pictures are left in
target/report-pictures for a person to look at.

What is checked is what a browser says of the page, and that page and PDF say the same; that the page says what is in the result files is
tested by tests/command_line.
"""
import html
import html.parser
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
PICTURES = ROOT / "target" / "report-pictures"
WAIT_S = 180
HOSTILE = "<script>document.title='ran'</script> \"q\" 🏠 עברית"


def fail(words):
    raise SystemExit(f"tests/browser/report_pages.py: {words}")


def need_tools():
    if shutil.which("chromium") and shutil.which("pdftotext"):
        return
    for command in (["apt-get", "update", "-qq"], ["apt-get", "install", "-y", "-qq", "chromium", "poppler-utils"]):
        done = subprocess.run(command, capture_output=True, text=True)
        if done.returncode != 0:
            fail(f"chromium and poppler-utils are needed, and `{' '.join(command)}` failed (no network, or not root?): "
                 f"{done.stderr.strip()[-300:]}")


def study(folder, weather, title, more):
    """The starter study in another climate, title and language."""
    text = (ROOT / "crates/study/src/starter.toml").read_text()
    text = re.sub(r'^title = .*$', lambda _: "title = '''" + title + "'''", text, count=1, flags=re.M)
    text = re.sub(r'^weather = "[^"]*"', f'weather = "{ROOT / "weather-samples" / weather}"', text, count=1, flags=re.M)
    path = folder / "study.toml"
    path.write_text(text + "\n" + more)
    return path


class Figures(html.parser.HTMLParser):
    """Texts of elements that name where their figure is from, and all text outside scripts and styles, that of charts too."""

    def __init__(self):
        super().__init__()
        self.found, self.texts, self.stack, self.scripts = [], [], [], 0

    def handle_starttag(self, tag, attributes):
        self.scripts += tag in ("script", "style")
        if tag not in ("meta", "input", "br", "link"):
            self.stack.append((tag, dict(attributes).get("data-from")))

    def handle_startendtag(self, tag, attributes):
        pass

    def handle_endtag(self, tag):
        self.scripts -= tag in ("script", "style")
        while self.stack:
            name, _ = self.stack.pop()
            if name == tag:
                return

    def handle_data(self, data):
        if self.scripts:
            return
        self.texts.append(data)
        for _, source in reversed(self.stack):
            if source:
                self.found.append((source, data))
                return


def figures_of(page):
    """Figures that name where they are from. That they are right is looked up by tests/command_line/origins.rs."""
    parser = Figures()
    parser.feed(page.read_text(encoding="utf-8"))
    if len(parser.found) < 5:
        fail(f"{page.name}: only {len(parser.found)} figures name where they are from")
    return parser


NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")


def numbers(text, apart="\u202f"):
    """Numbers as they are printed, thousands joined."""
    return NUMBER.findall(re.sub(f"(?<=[0-9])[{apart}](?=[0-9]{{3}}(?![0-9]))", "", text))


def pdf_says_the_same(pdf, page):
    """Every figure of the page is in the PDF's text, and every number of the PDF is in the page, its charts or its own feet."""
    parser = figures_of(page)
    text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    flat = re.sub(r"\s+", " ", text)
    plain = lambda words: re.sub(r"\s+", " ", words)
    # Words and hashes may be parted where their column ends; numbers never are.
    missing = [(source, words) for source, words in parser.found
               if re.match("[0-9\u2212]", words) and len(words) < 30 and plain(words) not in flat]
    if missing:
        fail(f"{pdf.name}: {len(missing)} figures are not in its text, first {missing[0]}")
    known = set(numbers(" ".join(parser.texts)))
    pages = flat.count("\f") + text.count("\f")
    known |= {str(number) for number in range(1, pages + 1)}
    # The codes of signs that the font lacks, and what is cut where its column ends.
    known |= {number for sign in "".join(parser.texts) for number in numbers(f"{ord(sign):04X}")}
    cut = " ".join(words for source, words in parser.found if len(words) > 20 and not source.startswith("annual"))
    # Readers of PDF give the narrow space between thousands as it is or as a plain one; columns are further apart.
    strangers = [number for number in numbers(text, "\u202f ") if number not in known and number not in cut]
    if strangers:
        fail(f"{pdf.name}: {len(strangers)} numbers are not on the page, first {strangers[:5]}")
    return text


def outline_is_that_of_the_page(pdf, page):
    """Headings of the page's sections, in the PDF's outline."""
    headings = [html.unescape(text) for text in re.findall(r"<h2>([^<]*)</h2>", page.read_text(encoding="utf-8"))]
    outline = subprocess.run(["pdftohtml", "-xml", "-i", "-stdout", str(pdf)], capture_output=True, text=True, check=True).stdout
    found = [html.unescape(text) for text in re.findall(r"<item page=\"[0-9]+\">([^<]*)</item>", outline)]
    # The day is chosen in a browser.
    missing = [heading for heading in headings if heading not in found]
    if len(found) < 10 or len(missing) > 1:
        fail(f"{pdf.name}: its outline is {found}, without {missing}")


def browser(profile, page, *arguments):
    command = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
               "--disable-background-networking", "--disable-component-update", "--disable-sync", "--hide-scrollbars",
               f"--user-data-dir={profile}", "--virtual-time-budget=8000", *arguments, page.as_uri()]
    done = subprocess.run(command, capture_output=True, text=True, timeout=WAIT_S)
    if done.returncode != 0:
        fail(f"chromium: {done.stderr.strip()[-300:]}")
    return done.stdout


# Run in a copy of the page: what sticks out of the window, and whether the script showed a day.
PROBE = """<script>addEventListener("load", () => { const wide = document.documentElement.scrollWidth > innerWidth + 1;
const rows = document.querySelectorAll("#day-table tbody tr").length;
document.documentElement.setAttribute("data-probe", JSON.stringify({wide, rows, title: document.title})); });</script>"""


def probed(folder, page, width, script):
    text = page.read_text(encoding="utf-8")
    copy = folder / f"probe-{page.name}"
    copy.write_text(text.replace("</body>", PROBE + "</body>"), encoding="utf-8")
    dom = browser(folder / f"profile-{width}", copy, f"--window-size={width},900", "--dump-dom")
    found = re.search(r'data-probe="([^"]*)"', dom)
    if not found:
        fail(f"{page.name}: the page did not load")
    said = json.loads(found.group(1).replace("&quot;", '"').replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&"))
    if said["wide"]:
        fail(f"{page.name}: sticks out of a window {width} wide")
    if script and said["rows"] != 24:
        fail(f"{page.name}: the day has {said['rows']} hours")
    if said["title"] == "ran":
        fail(f"{page.name}: the title ran as a script")


def without_scripting(folder, page):
    """Scripts are forbidden by a policy in a copy of the page: every figure must be there all the same."""
    text = page.read_text(encoding="utf-8")
    policy = '<meta http-equiv="Content-Security-Policy" content="script-src \'none\'">'
    copy = folder / f"still-{page.name}"
    copy.write_text(text.replace("<head>", "<head>" + policy, 1), encoding="utf-8")
    dom = browser(folder / "profile-still", copy, "--dump-dom")
    before, after = Figures(), Figures()
    before.feed(text)
    after.feed(dom)
    if before.found != after.found:
        fail(f"{page.name}: figures are lost without scripting")
    if not re.search(r'<form id="choose"[^>]*hidden', dom):
        fail(f"{page.name}: controls that do nothing are shown without scripting")


def one(program, name, weather, title, more):
    with tempfile.TemporaryDirectory() as made:
        folder = pathlib.Path(made)
        out = folder / "out"
        command = [program, "run", str(study(folder, weather, title, more)), "--out", str(out), "--quiet", "--report", "all"]
        subprocess.run(command, check=True, timeout=WAIT_S)
        page, pdf = out / "report.html", out / "report.pdf"
        text = pdf_says_the_same(pdf, page)
        pdf_says_the_same(out / "report-one-page.pdf", out / "report-one-page.html")
        outline_is_that_of_the_page(pdf, page)
        if title == HOSTILE and ("[U+1F3E0]" not in text or "<script>" not in text):
            fail("report.pdf: the title is not shown as text")
        for width in (1280, 390 if sys.platform == "linux" else 500):
            # A browser window is never narrower than 500 without a device; a frame is.
            frame = folder / f"frame-{width}.html"
            frame.write_text(f'<body style="margin:0"><iframe src="out/report.html" style="border:0;width:{width}px;height:6000px"></iframe>')
            browser(folder / f"profile-{width}", frame, f"--window-size={max(width, 500)},6000",
                    f"--screenshot={PICTURES / f'{name}-{width}.png'}")
        probed(folder, page, 1280, True)
        probed(folder, page, 500, True)
        without_scripting(folder, page)
        browser(folder / "profile-print", page, "--no-pdf-header-footer", f"--print-to-pdf={PICTURES / f'{name}-printed.pdf'}")
        printed = subprocess.run(["pdftotext", str(PICTURES / f"{name}-printed.pdf"), "-"], capture_output=True, text=True, check=True)
        if len(printed.stdout) < 5000:
            fail(f"{name}: the printed page is nearly empty")
        for source in ("report.pdf", "report-one-page.pdf"):
            subprocess.run(["pdftoppm", "-r", "60", "-png", str(out / source), str(PICTURES / f"{name}-{source[:-4]}")], check=True)
        print(f"{name}: page and PDF agree, and nothing sticks out")


def main():
    if len(sys.argv) < 2:
        fail("say where the program is: target/debug/dewledger")
    program = os.path.abspath(sys.argv[1])
    need_tools()
    PICTURES.mkdir(parents=True, exist_ok=True)
    one(program, "cold", "frosthollow.csv", "Bungalow at Frosthollow", "")
    one(program, "damp", "saltmere.csv", "Maison de Saltmere", '[report]\nlanguage = "fr"\n')
    one(program, "humid", "palmreach.csv", HOSTILE, "")


if __name__ == "__main__":
    main()
