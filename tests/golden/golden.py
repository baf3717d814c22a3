#!/usr/bin/env python3
"""Golden tests of the pages: what a reader gets out of every sample's PDF, kept as files.

golden.py check PROGRAM     compares; a difference fails with its place
golden.py check-all PROGRAM the same with every page read aloud, which costs poppler seconds a sample
golden.py accept PROGRAM    writes the files anew (through `sh tests/golden/accept`)

Kept of each case, in tests/golden/<case>/:
  text      pdftotext -layout, page by page; runs of spaces count as one gap
  places    where the readings and limits stand on the page (pdftotext -bbox), in points
  read      pdfinfo -struct-text: the page as it is read aloud
  page-N    a picture of each page at 80 dots per inch, in 4 greys

What depends on the version of poppler is left out or allowed for: gaps between words, positions to
three points, edges of letters.
"""
import concurrent.futures
import difflib
import html
import pathlib
import re
import struct
import subprocess
import sys
import tempfile
import zlib

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
OTHERS = ["schedule", "inspection", "handover", "site-sheet"]
# case: sample, documents (none: what the job asks for), options, pictures, read aloud in every run
CASES = {
    "sewing-workshop": ("sewing-workshop", [], [], True, True),
    "new-board": ("new-board", [], [], False, False),
    "tt-cottage": ("tt-cottage", [], [], False, False),
    "tired-day": ("tired-day", [], [], True, False),
    "old-house": ("old-house", [], [], True, False),
    "joinery": ("joinery", [], [], False, False),
    "others": ("sewing-workshop", OTHERS, [], True, False),
    "harbour": ("sewing-workshop", ["client-page"], ["--theme", "harbour"], True, False),
    "cymraeg": ("tired-day", [], ["--language", "cymraeg"], False, False),
}
PLACE_TOLERANCE = 3       # points
GREY_TOLERANCE = 1        # of 3 steps: more than the edge of a letter drawn otherwise
SHARE_TOLERANCE = 0.0015  # of a page's dots: half a short word


def run(*command):
    done = subprocess.run(command, capture_output=True, check=False)
    if done.returncode != 0:
        sys.exit(f"{command[0]}: exit {done.returncode}\n{done.stderr.decode(errors='replace')}")
    return done.stdout


def pdf_of(program, case, folder):
    sample, documents, options, _, _ = CASES[case]
    out = folder / f"{case}.pdf"
    command = [program, "draft", str(ROOT / "samples" / sample), "-o", str(out)]
    for d in documents:
        command += ["--document", d]
    run(*command, *options)
    return out


def without_version(text):
    return re.sub(r"ohmleaf \d+\.\d+\.\d+", "ohmleaf (version)", text)


def text_of(pdf):
    pages = without_version(run("pdftotext", "-layout", str(pdf), "-").decode())
    lines = (re.sub(r" {2,}", "  ", line).strip() for line in pages.replace("\f", "\f\n").split("\n"))
    out = "\n".join(line for line in lines if line).replace("\f", "--- page ---")
    return re.sub(r"\n?--- page ---$", "", out) + "\n"


def places_of(pdf):
    out, page = [], 0
    word = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)"[^>]*>(.*?)</word>')
    for line in run("pdftotext", "-bbox", str(pdf), "-").decode().split("\n"):
        if "<page " in line:
            page += 1
        m = word.search(line)
        if m and re.fullmatch(r"[<>≤≥]?\d[\d.,]*", html.unescape(m[3])):
            out.append(f"{page} {float(m[1]):.0f} {float(m[2]):.0f} {html.unescape(m[3])}")
    return "\n".join(out) + "\n"


def read_of(pdf):
    lines = without_version(run("pdfinfo", "-struct-text", str(pdf)).decode()).split("\n")
    return "\n".join(line.rstrip() for line in lines if line.strip()) + "\n"


def pictures_of(pdf, folder):
    run("pdftoppm", "-r", "80", "-gray", str(pdf), str(folder / "page"))
    out = []
    for path in sorted(folder.glob("page-*.pgm")):
        data = path.read_bytes()
        size = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
        out.append((int(size[1]), int(size[2]), bytes(b >> 6 for b in data[size.end():])))
        path.unlink()
    return out


def packed(width, height, greys):
    """A PNG of 2 bits a dot, no filter: small for black on white, and quick to read here."""
    rows = []
    for y in range(height):
        row = greys[y * width:(y + 1) * width] + b"\0" * (-width % 4)
        rows.append(b"\0" + bytes(a << 6 | b << 4 | c << 2 | d for a, b, c, d in
                                  zip(row[::4], row[1::4], row[2::4], row[3::4])))
    chunks = [(b"IHDR", struct.pack(">IIBBBBB", width, height, 2, 0, 0, 0, 0)),
              (b"IDAT", zlib.compress(b"".join(rows), 9)), (b"IEND", b"")]
    out = b"\x89PNG\r\n\x1a\n"
    for name, body in chunks:
        out += struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
    return out


FOUR = [bytes((b >> 6, b >> 4 & 3, b >> 2 & 3, b & 3)) for b in range(256)]


def unpacked(png):
    at, width, height, body = 8, 0, 0, b""
    while at < len(png):
        size, name = struct.unpack(">I4s", png[at:at + 8])
        chunk = png[at + 8:at + 8 + size]
        if name == b"IHDR":
            width, height = struct.unpack(">II", chunk[:8])
        if name == b"IDAT":
            body += chunk
        at += size + 12
    raw, stride = zlib.decompress(body), (width + 3) // 4 + 1
    greys = b"".join(b"".join(FOUR[b] for b in raw[y * stride + 1:(y + 1) * stride])[:width]
                     for y in range(height))
    return width, height, greys


def made(program, case, aloud):
    """Texts by name, and pictures, of one case."""
    with tempfile.TemporaryDirectory() as tmp:
        folder = pathlib.Path(tmp)
        pdf = pdf_of(program, case, folder)
        texts = {"text": text_of(pdf), "places": places_of(pdf)}
        if aloud or CASES[case][4]:
            texts["read"] = read_of(pdf)
        return texts, pictures_of(pdf, folder) if CASES[case][3] else []


def all_made(program, aloud):
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        return dict(zip(CASES, pool.map(lambda case: made(program, case, aloud), CASES)))


def moved(kept, now):
    """Lines of `places` that differ by more than poppler's rounding."""
    a, b = kept.split("\n"), now.split("\n")
    if len(a) != len(b):
        return list(difflib.unified_diff(a, b, "kept", "now", lineterm="", n=0))[:20]
    out = []
    for old, new in zip(a, b):
        o, n = old.split(" ", 3), new.split(" ", 3)
        if old == new:
            continue
        same = len(o) == len(n) == 4 and (o[0], o[3]) == (n[0], n[3]) and all(
            abs(int(o[i]) - int(n[i])) <= PLACE_TOLERANCE for i in (1, 2))
        if not same:
            out += [f"- {old}", f"+ {new}"]
    return out


def painted_otherwise(kept, now):
    if kept == now:
        return 0.0
    if kept[:2] != now[:2]:
        return 1.0
    return sum(abs(a - b) > GREY_TOLERANCE for a, b in zip(kept[2], now[2])) / len(kept[2])


def check(program, aloud=False):
    faults = []
    for case, (texts, pictures) in all_made(program, aloud).items():
        for name, now in texts.items():
            file = HERE / case / name
            kept = file.read_text() if file.exists() else ""
            lines = (moved(kept, now) if name == "places" else
                     list(difflib.unified_diff(kept.split("\n"), now.split("\n"), "kept", "now",
                                               lineterm="", n=1)))
            if lines:
                faults.append(f"{case}/{name} differs:\n  " + "\n  ".join(lines[:24]))
        kept_pages = sorted((HERE / case).glob("page-*.png"))
        if len(kept_pages) != len(pictures):
            faults.append(f"{case}: {len(kept_pages)} pages kept, {len(pictures)} now")
        for number, now in enumerate(pictures, 1):
            file = HERE / case / f"page-{number}.png"
            if not file.exists():
                continue
            share = painted_otherwise(unpacked(file.read_bytes()), now)
            if share > SHARE_TOLERANCE:
                faults.append(f"{case}/page-{number}.png: {share * 100:.2f} % of its dots differ")
    for fault in faults:
        print(fault)
    if faults:
        print("\nLook at the change and accept it: sh tests/golden/accept")
        sys.exit(1)
    print(f"golden: {len(CASES)} cases agree")


def accept(program):
    for case, (texts, pictures) in all_made(program, True).items():
        folder = HERE / case
        folder.mkdir(exist_ok=True)
        for name, now in texts.items():
            (folder / name).write_text(now)
        for old in folder.glob("page-*.png"):
            if int(old.stem[5:]) > len(pictures):
                old.unlink()
        for number, now in enumerate(pictures, 1):
            file = folder / f"page-{number}.png"
            if not file.exists() or painted_otherwise(unpacked(file.read_bytes()),
                                                      now) > SHARE_TOLERANCE:
                file.write_bytes(packed(*now))


if __name__ == "__main__":
    commands = {"check": check, "check-all": lambda program: check(program, True), "accept": accept}
    if len(sys.argv) != 3 or sys.argv[1] not in commands:
        sys.exit(__doc__)
    commands[sys.argv[1]](sys.argv[2])
