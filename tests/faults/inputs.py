#!/usr/bin/env python3
"""Hostile job files, whole: usage: inputs.py PROGRAM

Each is written out and given to `check`. What must come back: exit code 2, a message with file, line
and column (a file that is too large has none), nothing else touched, in less than 64 MB of memory (or
OHMLEAF_MOST_MB: sanitizers take more). The time is printed. Sound files with odd bytes in their texts must be taken, and print no control byte.
"""
import os
import pathlib
import re
import resource
import shutil
import sys
import tempfile
import time

program = pathlib.Path(sys.argv[1]).resolve()
root = pathlib.Path(__file__).resolve().parents[2]
here = pathlib.Path(tempfile.mkdtemp(prefix="ohmleaf-inputs-", dir=os.environ.get("TMPDIR", "/dev/shm")))
shutil.copytree(root / "samples", here / "s", ignore=shutil.ignore_patterns("*.png"))
job = here / "s/tt-cottage/job.toml"
plain = job.read_bytes()
most_memory = int(os.environ.get("OHMLEAF_MOST_MB", "64"))
wrong = 0


def fail(what):
    global wrong
    wrong += 1
    print("WRONG:", what, file=sys.stderr)


def check():
    """Exit code, both outputs, peak memory in MB (our own before exec counts too), seconds."""
    out, err = here / "out", here / "err"
    begun = time.monotonic()
    child = os.fork()
    if child == 0:
        os.chdir(here / "s")
        for target, fd in ((out, 1), (err, 2)):
            os.dup2(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), fd)
        os.execv(program, [str(program), "check", "tt-cottage"])
    _, status, used = os.wait4(child, 0)
    return (os.waitstatus_to_exitcode(status), out.read_bytes(), err.read_bytes(),
            used.ru_maxrss / 1024, time.monotonic() - begun)


def with_text(text):
    """The sample with its line of premises replaced."""
    return re.sub(rb'(?m)^premises *=.*$', lambda _: b"premises = " + text, plain, count=1)


huge = {
    "1 GB of nothing": 1 << 30,
    "17 MB": 17 << 20,
}
refused = {
    "NUL": lambda: with_text(b'"a\0b"'),
    "NUL alone": lambda: b"\0",
    "escape character": lambda: with_text(b'"a\x1b[31mb"'),
    "delete character": lambda: with_text(b'"a\x7fb"'),
    "lone carriage return": lambda: plain.replace(b"\n", b"\r"),
    "UTF-16, little end first": lambda: b"\xff\xfe" + plain.decode().encode("utf-16-le"),
    "UTF-16, big end first": lambda: b"\xfe\xff" + plain.decode().encode("utf-16-be"),
    "UTF-16 without mark": lambda: plain.decode().encode("utf-16-le"),
    "Latin-1": lambda: with_text('"Caf\u00e9"'.encode("latin-1")),
    "overlong slash": lambda: with_text(b'"a\xc0\xafb"'),
    "overlong NUL": lambda: with_text(b'"a\xc0\x80b"'),
    "surrogate": lambda: with_text(b'"a\xed\xa0\x80b"'),
    "beyond Unicode": lambda: with_text(b'"a\xf4\x90\x80\x80b"'),
    "cut in a character": lambda: with_text(b'"a\xe2\x82"'),
    "bidirectional override": lambda: with_text('"a\u202eb"'.encode()),
    "bidirectional isolate": lambda: with_text('"a\u2066b"'.encode()),
    "escaped bidirectional override": lambda: with_text(b'"a\\u202Eb"'),
    "escaped control character": lambda: with_text(b'"a\\u0007b"'),
    "escaped surrogate": lambda: with_text(b'"a\\uD800b"'),
    "a million keys": lambda: b"".join(b"k%d=1\n" % i for i in range(1_000_000)),
    "590,000 keys in 5 MB": lambda: b"".join(b"k%d=1\n" % i for i in range(590_000)),
    "a million elements": lambda: b"a=[" + b"1,\n" * 1_000_000 + b"]",
    "a million headings": lambda: b"[[a]]\n" * 1_000_000,
    "a key of 400,000 dots": lambda: b"a" + b".a" * 400_000 + b"=1",
    "dots over many lines": lambda: b"\n".join(b"a" + b".b" * 15 + b"%d=1" % i for i in range(50_000)),
    "brackets 100,000 deep": lambda: b"a=" + b"[" * 100_000,
    "brackets over many lines": lambda: b"a=" + b"[\n" * 100_000,
    "inline tables 100,000 deep": lambda: b"a=" + b"{a=" * 100_000,
    "a line of 15 MB": lambda: b'a="' + b"x" * (15 << 20) + b'"',
    "a text of 15 MB": lambda: b'premises="""' + b"x" * 60_000 + (b"\n" + b"x" * 60_000) * 240 + b'"""',
    "an open text": lambda: with_text(b'"""'),
    "a number of a million digits": lambda: with_text(b"1" * 60_000),
    "nothing": lambda: b"",
    "a PNG": lambda: (root / "tests/data/images/rgb8.png").read_bytes(),
    "random bytes": lambda: bytes((i * 7919 + i // 256) % 256 for i in range(100_000)),
    "nan": lambda: plain + b"\n[supply]\nze = nan\n",
}
taken = {
    "a BOM": b"\xef\xbb\xbf" + plain,
    "line ends of Windows": plain.replace(b"\n", b"\r\n"),
    "combining accents": with_text('"Cafe\u0301, W\u0302 y"'.encode()),
    "signs of the trade": with_text('"\u03a9 \u0394 \u00b0C \u00bd \u2264 \u00b2 \u00b5 \u00a3"'.encode()),
    "what a shell would run": with_text(b"'$(touch here) `touch here`; | & > here'"),
    "what a spreadsheet would run": with_text(b"'=1+1@SUM(A1)'"),
    "what a page would run": with_text(b"'<script>alert(1)</script>'"),
}
count, most, longest = 0, 0.0, 0.0
for name, content in {**huge, **refused}.items():
    with open(job, "wb") as file:
        if isinstance(content, int):
            file.truncate(content)
        else:
            file.write(content())
    code, out, err, memory, seconds = check()
    count, most, longest = count + 1, max(most, memory), max(longest, seconds)
    placed = re.search(rb"job\.toml:\d+:\d+: error", err) or (name in huge and b"larger than" in err)
    if code != 2 or not placed:
        fail(f"{name}: exit code {code}: {err[:300]!r}")
    if memory > most_memory:
        fail(f"{name}: {memory:.0f} MB")
    if re.search(rb"[\x00-\x08\x0b-\x1f\x7f]", out + err):
        fail(f"{name}: a control character reached the terminal")
print(f"| hostile job files | {count} | refused with a place; at most {most:.0f} MB, {longest:.2f} s |")
for name, content in taken.items():
    job.write_bytes(content)
    code, out, err, _, _ = check()
    if code not in (0, 1) or re.search(rb"[\x00-\x08\x0b-\x1f\x7f]", out + err):
        fail(f"{name}: exit code {code}: {err[:300]!r}")
print(f"| odd job files that are sound | {len(taken)} | read, nothing strange printed |")
shutil.rmtree(here)
sys.exit(1 if wrong else 0)
