"""Checks booklets with readers that did not write them (pikepdf, which is qpdf's library, and
pdfminer.six): structure, tags, reading order, fonts, attachments. `.ci/readers` runs it; by hand:

    python3 -m venv venv && venv/bin/pip install pikepdf==10.18.0 pdfminer.six==20260107
    cargo run -q -- make data/plans/*.toml --to pdf --edition grower,shelf,pupil,key --out booklets
    venv/bin/python tests/reference/check_pdf.py booklets/*.pdf

Prints one line a booklet, and what is wrong; ends with 1 if anything is. tests/paper.rs does the
core of it in `cargo test`.
"""

import hashlib
import json
import pathlib
import sys
from multiprocessing import Pool

import pikepdf
from pdfminer.high_level import extract_pages
from pdfminer.layout import LTChar, LTTextContainer

HEADS = {f"/H{n}": n for n in range(1, 7)}
SHOWS = {"Tj", "TJ", "'", '"'}


def dense(text):
    return "".join(text.split())


class Booklet:
    def __init__(self, path):
        self.path, self.wrong = path, []
        self.pdf = pikepdf.open(path)
        self.root = self.pdf.Root
        self.pages = {page.objgen: n for n, page in enumerate(self.pdf.pages)}
        self.counts = {}

    def say(self, what, fine=False):
        if not fine:
            self.wrong.append(what)

    def syntax(self):
        for problem in self.pdf.check_pdf_syntax():
            self.say(f"structure: {problem}")

    def claims(self):
        self.say("not tagged", self.root.MarkInfo.get("/Marked") == True)
        self.say("no language", str(self.root.get("/Lang", "")) != "")
        shown = self.root.ViewerPreferences.get("/DisplayDocTitle") == True
        self.say("title not shown", shown)
        with self.pdf.open_metadata() as meta:
            self.say("no title", bool(meta.get("dc:title")))
            self.say("not PDF/UA-1", str(meta.get("pdfuaid:part")) == "1")
            archive = f"{meta.get('pdfaid:part')}{meta.get('pdfaid:conformance')}"
            self.say(f"PDF/A is {archive}", archive == "3A")

    def tags(self):
        """Elements in reading order: kind, depth, element."""
        roles = self.root.StructTreeRoot.get("/RoleMap", {})
        stack = [(self.root.StructTreeRoot, None)]
        order = []
        while stack:
            element, page = stack.pop()
            if not isinstance(element, pikepdf.Dictionary):
                continue
            if "/S" in element:
                kind = str(element.S)
                order.append((str(roles.get(kind, kind)), element))
            kids = element.get("/K", [])
            kids = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
            stack.extend((kid, page) for kid in reversed(kids))
        return order

    def accessible(self):
        order = self.tags()
        kinds = [kind for kind, _ in order]
        self.counts.update(tags=len(kinds), tables=kinds.count("/Table"), figures=0)
        last = 0
        for kind, element in order:
            if kind == "/Figure":
                self.counts["figures"] += 1
                self.say("a figure has no words", str(element.get("/Alt", "")).strip() != "")
            if kind in HEADS:
                self.say(f"a heading jumps from {last} to {HEADS[kind]}", HEADS[kind] <= last + 1)
                last = HEADS[kind]
            if kind == "/Table":
                inside = self.inside(element)
                self.say("a table has no head", "/TH" in inside)
                scoped = [e for k, e in self.below(element) if k == "/TH" and "Scope" in repr(e.get("/A"))]
                self.say("a head has no scope", len(scoped) == inside.count("/TH"))
            if kind == "/Formula":
                self.say("a formula has no words", "/Alt" in element)
        self.say("no headings", last > 0)
        marks = [self.marks(element) for kind, element in order if kind in HEADS]
        marks = [m for m in marks if m]
        # Pages never go back, and on a page the marks count up.
        self.say("headings are out of order", marks == sorted(marks))
        self.counts["headings"] = len(marks)

    def below(self, element):
        kids = element.get("/K", [])
        kids = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
        for kid in kids:
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                yield str(kid.S), kid
                yield from self.below(kid)

    def inside(self, element):
        return [kind for kind, _ in self.below(element)]

    def marks(self, element):
        """Page and first mark of an element."""
        kids = element.get("/K", [])
        kids = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
        for kid in kids:
            if isinstance(kid, int) and "/Pg" in element:
                return (self.pages[element.Pg.objgen], kid)
            if isinstance(kid, pikepdf.Dictionary) and "/MCID" in kid:
                page = kid.get("/Pg", element.get("/Pg"))
                return (self.pages[page.objgen], int(kid.MCID))
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                found = self.marks(kid)
                if found:
                    return found
        return None

    def marked(self):
        """Every letter stands in a tag or is an artifact; every tag's mark is on its page once."""
        tagged = {}
        for _, element in self.tags():
            kids = element.get("/K", [])
            kids = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
            for kid in kids:
                page, mark = element.get("/Pg"), kid
                if isinstance(kid, pikepdf.Dictionary):
                    if "/MCID" not in kid:
                        continue
                    page, mark = kid.get("/Pg", page), kid.MCID
                elif not isinstance(kid, int):
                    continue
                tagged.setdefault(self.pages[page.objgen], []).append(int(mark))
        for n, page in enumerate(self.pdf.pages):
            depth, marks = 0, []
            for operands, operator in pikepdf.parse_content_stream(page):
                operator = str(operator)
                if operator in ("BDC", "BMC"):
                    depth += 1
                    if len(operands) > 1 and "/MCID" in operands[1]:
                        marks.append(int(operands[1]["/MCID"]))
                elif operator == "EMC":
                    depth -= 1
                elif operator in SHOWS:
                    self.say(f"page {n + 1}: letters outside every tag", depth > 0)
            same = sorted(marks) == sorted(tagged.get(n, []))
            self.say(f"page {n + 1}: marks and tags differ", same)

    def bookmarks(self):
        """Bookmarks go forward, and their words stand on the page they lead to."""
        texts, places = {}, []

        def text(page):
            if page not in texts:
                layout = next(extract_pages(self.path, page_numbers=[page]))
                boxes = [b.get_text() for b in layout if isinstance(b, LTTextContainer)]
                texts[page] = dense("".join(boxes))
            return texts[page]

        def walk(items, depth):
            for item in items:
                # A destination that stands in an object of its own.
                dest = item.destination if item.destination is not None else item.obj.get("/Dest")
                page = self.pages[dest[0].objgen]
                places.append((page, -float(dest[3])))
                found = dense(item.title) in text(page)
                self.say(f"bookmark “{item.title}” is not on page {page + 1}", found)
                walk(item.children, depth + 1)

        with self.pdf.open_outline() as outline:
            walk(outline.root, 1)
        self.say("no bookmarks", len(places) > 0)
        self.say("bookmarks go back", places == sorted(places))
        self.counts["bookmarks"] = len(places)

    def places(self):
        """Every letter stands at least 10 mm from the edges of its page."""
        edge = 10 / 25.4 * 72

        def letters(thing):
            if isinstance(thing, LTChar):
                yield thing
            elif hasattr(thing, "__iter__"):
                for inner in thing:
                    yield from letters(inner)

        for n, page in enumerate(extract_pages(self.path)):
            for letter in letters(page):
                inside = edge <= letter.x0 and letter.x1 <= page.width - edge
                inside = inside and edge / 2 <= letter.y0 and letter.y1 <= page.height - edge / 2
                self.say(f"page {n + 1}: letters at the edge", inside or not letter.get_text().strip())

    def fonts(self):
        count = 0
        for thing in self.pdf.objects:
            if not isinstance(thing, pikepdf.Dictionary):
                continue
            if thing.get("/Type") == "/FontDescriptor":
                count += 1
                files = ("/FontFile", "/FontFile2", "/FontFile3")
                self.say(f"{thing.FontName} is not inside", any(f in thing for f in files))
            if thing.get("/Type") == "/Font" and thing.get("/Subtype") == "/Type0":
                self.say("a font has no letters behind its shapes", "/ToUnicode" in thing)
        self.counts["fonts"] = count

    def carried(self):
        # Only the booklet itself carries them: sheets for pupils would carry the answers.
        name = pathlib.Path(self.path).stem
        bare = name.endswith(("-pupil", "-key", "-shelf", "-rest"))
        wanted = {} if bare else {"plan.toml": "/Source", "results.json": "/Data"}
        found = {str(f.UF): str(f.AFRelationship) for f in self.root.get("/AF", [])}
        self.say(f"attachments are {found}", found == wanted)
        self.say("attachments are not listed", set(self.pdf.attachments) == set(wanted))
        if wanted and found == wanted:
            files = {n: self.pdf.attachments[n].get_file().read_bytes() for n in wanted}
            digest = hashlib.sha256(files["plan.toml"]).hexdigest()[:8]
            self.say("results of another plan", json.loads(files["results.json"])["digest"] == digest)

    def check(self):
        parts = [self.syntax, self.fonts]
        # Sheets to fold are for the printer: their pages stand out of order, without tags.
        if not pathlib.Path(self.path).stem.endswith("-fold"):
            parts += [self.claims, self.accessible, self.marked, self.bookmarks, self.places, self.carried]
        for part in parts:
            part()
        pages = len(self.pdf.pages)
        counts = ", ".join(f"{n} {what}" for what, n in self.counts.items())
        print(f"{self.path}: {pages} pages, {counts}: {'sound' if not self.wrong else 'WRONG'}")
        for line in dict.fromkeys(self.wrong):
            print(f"    {line}")
        return not self.wrong


def check(path):
    try:
        return Booklet(path).check()
    except Exception as error:
        print(f"{path}: WRONG\n    cannot be read: {error!r}")
        return False


if __name__ == "__main__":
    with Pool() as pool:
        sound = pool.map(check, sys.argv[1:], chunksize=1)
    sys.exit(0 if sound and all(sound) else 1)
