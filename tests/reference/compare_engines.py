"""Wall time of the same booklet by binleaf and by three general typesetters, in one run. By hand:

    apt-get install texlive-latex-recommended chromium poppler-utils
    python3 -m venv venv && venv/bin/pip install weasyprint==70.0 markdown==3.11.3 cairosvg==2.9.1 beautifulsoup4==4.15.0
    cargo build --release
    venv/bin/python tests/reference/compare_engines.py target/release/binleaf [PLAN.toml]

Without a plan: the example plan with twelve bins, no two alike.
The Markdown booklet of the plan is turned into HTML and LaTeX first; only the typesetting is timed
(and, for binleaf, everything from the plan on). The least of fifteen runs counts (of WeasyPrint, of three). Prints a line an
engine: seconds, ratio to binleaf, pages, whether the PDF is tagged and archival.
"""

import pathlib
import re
import subprocess
import sys
import tempfile
import time

import cairosvg
import markdown
from bs4 import BeautifulSoup, NavigableString

STYLE = """<style>@page { size: A4; margin: 19mm } body { font: 10.5pt serif }
table { border-collapse: collapse; width: 100%; font-size: 9.5pt } td, th { border: 0.3pt solid; padding: 2pt 4pt }
h2 { break-before: page } img { max-width: 100% } blockquote { border: 1pt solid; padding: 6pt }</style>"""
HEAD = r"""\documentclass[10pt,a4paper]{article}\usepackage[utf8]{inputenc}\usepackage[T1]{fontenc}\usepackage{textcomp}
\usepackage[margin=19mm]{geometry}\usepackage{longtable,graphicx,hyperref}\sloppy\begin{document}\tableofcontents"""


def tex(text):
    """Text for LaTeX; letters its fonts lack become a question mark, which costs as much to set."""
    text = re.sub(r"([#$%&_{}])", r"\\\1", text.replace("\\", "/"))
    text = text.replace("~", r"\textasciitilde{}").replace("^", r"\textasciicircum{}")
    known = {"–": "--", "−": "--", "×": r"$\times$", "÷": r"$\div$", "π": r"$\pi$", "√": r"$\surd$", "≥": r"$\ge$", "≤": r"$\le$"}
    return "".join(known.get(c, c if ord(c) < 256 else "?") for c in text)


def latex(node, folder):
    if isinstance(node, NavigableString):
        return tex(str(node))
    inner = "".join(latex(child, folder) for child in node.children) if node.name != "table" else ""
    match node.name:
        case "h1" | "h2":
            return rf"\clearpage\section{{{inner}}}" + "\n"
        case "h3":
            return rf"\subsection{{{inner}}}" + "\n"
        case "h4" | "h5":
            return rf"\subsubsection{{{inner}}}" + "\n"
        case "ul" | "ol" if node.find("li"):
            kind = "itemize" if node.name == "ul" else "enumerate"
            return rf"\begin{{{kind}}}{inner}\end{{{kind}}}" + "\n"
        case "li":
            return rf"\item {inner}"
        case "strong":
            return rf"\textbf{{{inner}}}"
        case "em":
            return rf"\emph{{{inner}}}"
        case "blockquote":
            return rf"\begin{{quote}}{inner}\end{{quote}}"
        case "p" | "pre":
            return inner + "\n\n"
        case "img":
            picture = folder / node["src"]
            target = picture.with_suffix(".pdf")
            cairosvg.svg2pdf(url=str(picture), write_to=str(target))
            return rf"\includegraphics[width=0.7\linewidth]{{{target}}}"
        case "table":
            rows = node.find_all("tr")
            count = max(len(row.find_all(["td", "th"])) for row in rows)
            lines = [" & ".join(latex(c, folder) for c in row.find_all(["td", "th"])) for row in rows]
            form = "|" + f"p{{{0.92 / count - 0.02:.3f}\\linewidth}}|" * count
            body = lines[0] + r"\\ \hline\endhead " + "".join(line + r"\\ \hline" + "\n" for line in lines[1:])
            return rf"\begin{{longtable}}{{{form}}}\hline {body}\end{{longtable}}" + "\n\n"
    return inner


def wall(command, before=lambda: None):
    before()
    start = time.monotonic()
    for one in command:
        done = subprocess.run(one, capture_output=True)
        if done.returncode not in (0, 1) or (done.returncode and "pdflatex" not in one[0]):
            sys.exit(f"{one[0]}: {done.stderr.decode()[-800:]}{done.stdout.decode()[-800:]}")
    return time.monotonic() - start


def facts(pdf):
    said = subprocess.run(["pdfinfo", pdf], capture_output=True, text=True).stdout
    get = lambda key: re.search(rf"^{key}: *(.*)$", said, re.M)
    raw = pathlib.Path(pdf).read_bytes()
    archive = "PDF/A" if b"pdfaid" in raw else "not archival"
    return f"{get('Pages')[1]} pages, {'tagged' if get('Tagged')[1] == 'yes' else 'not tagged'}, {archive}"


def twelve(file):
    """The example plan with twelve bins, no two alike."""
    text = (pathlib.Path(__file__).parents[2] / "data/plans/shelf-totes.toml").read_text()
    head, *bins = text.split("[[bin]]\n")
    last, rest = bins[-1].split("# What the table wants", 1)
    alike = [one.replace("copies = 2\n", "") for one in (*bins[:-1], last)]
    for n in range(4):
        for one in alike:
            one = re.sub(r'name = "(.*)"', rf'name = "\1 {n + 1}"', one)
            one = re.sub(r'depth = "(.*) in"', lambda depth: f'depth = "{float(depth[1]) + n / 8} in"', one)
            head += f"[[bin]]\n{one}"
    file.write_text(f"{head}# What the table wants{rest}")
    return file


def main(binleaf, plan=None):
    folder = pathlib.Path(tempfile.mkdtemp())
    plan = plan or twelve(folder / "twelve.toml")
    out = ["--out", str(folder)]
    name = pathlib.Path(plan).stem
    subprocess.run([binleaf, "make", plan, "--to", "md", *out], check=True, capture_output=True)
    html = markdown.markdown((folder / f"{name}.md").read_text(), extensions=["tables", "sane_lists"])
    page = folder / "page.html"
    page.write_text(f"<!doctype html><meta charset=utf-8><title>{name}</title>{STYLE}{html}")
    (folder / "page.tex").write_text(HEAD + latex(BeautifulSoup(html, "html.parser"), folder) + r"\end{document}")
    pdflatex = ["pdflatex", "-interaction=nonstopmode", f"-output-directory={folder}", str(folder / "page.tex")]
    clean = lambda: [path.unlink() for path in folder.glob("page.[at]*") if path.suffix in (".aux", ".toc")]
    weasy = str(pathlib.Path(sys.executable).with_name("weasyprint"))
    chromium = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-sync",
                "--no-first-run", f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={folder / 'chromium.pdf'}", page.as_uri()]
    runs = {
        "binleaf": ((([binleaf, "make", plan, "--to", "pdf", *out],),), folder / f"{name}.pdf"),
        "pdfLaTeX, two passes": (((pdflatex, pdflatex), clean), folder / "page.pdf"),
        "headless Chromium": (((chromium,),), folder / "chromium.pdf"),
        "WeasyPrint": ((([weasy, str(page), str(folder / "weasy.pdf")],),), folder / "weasy.pdf"),
    }
    # In turns, for a machine is not equally quick at all times; some runs together, for the first after
    # a pause has to get its memory back from the host. The slow one less often.
    times = {engine: [] for engine in runs}
    for _ in range(3):
        for engine, (work, _) in runs.items():
            for _ in range(1 if engine == "WeasyPrint" else 5):
                times[engine].append(wall(*work))
    ours = min(times["binleaf"])
    for engine, (_, pdf) in runs.items():
        seconds = min(times[engine])
        print(f"{engine:22} {seconds:7.2f} s  {seconds / ours:6.2f} times binleaf  {facts(pdf)}")


if __name__ == "__main__":
    main(*sys.argv[1:3])
