#!/usr/bin/env python3
"""What goes wrong outside the archive: usage: faults.py PROGRAM NO_MEMORY.SO [PART ...]

Parts: memory stdout disk readonly signals terminal; memory:check alone for one command. Each puts a fault into `check`, `draft` or `issue`
and looks at what is left: a message that says what to do, exit code 3 (130 for an interruption), no
half file, and the same command again works. Each has a control that must be caught. OHMLEAF_SHARE=N
takes one in N of the allocations and signals, spread evenly; prints a table of counts.
"""
import concurrent.futures
import fcntl
import os
import pathlib
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import termios
import time

root = pathlib.Path(__file__).resolve().parents[2]
program, no_memory = (pathlib.Path(p).resolve() for p in sys.argv[1:3])
parts = sys.argv[3:] or ["memory", "stdout", "disk", "readonly", "signals", "terminal"]
share = int(os.environ.get("OHMLEAF_SHARE", "1"))
here = pathlib.Path(tempfile.mkdtemp(prefix="ohmleaf-faults-", dir=os.environ.get("TMPDIR", "/dev/shm")))
LAST = 40
wrong = []
counted = 0


def fail(what):
    wrong.append(what)
    print("WRONG:", what, file=sys.stderr)


def row(proof, count, outcome):
    global counted
    print(f"| {proof} | {count} | {outcome}{len(wrong) - counted} wrong |", flush=True)
    counted = len(wrong)


class Bench:
    """A folder with the profile, one job and an archive of one certificate, fresh each time."""

    def __init__(self, name):
        self.path = here / name
        shutil.rmtree(self.path, ignore_errors=True)
        shutil.copytree(template, self.path)

    def run(self, *arguments, **more):
        more.setdefault("capture_output", True)
        return subprocess.run([program, *arguments], cwd=self.path, timeout=60, **more)

    def files(self):
        """Everything but the archive and its working folder, which have proofs of their own."""
        return sorted(str(p.relative_to(self.path)) for p in self.path.rglob("*")
                      if not str(p.relative_to(self.path)).startswith(("archive", ".archive")))

    def sound(self, why):
        """The archive holds one or two whole certificates, and the job can be issued (again)."""
        again = self.run("issue", "tt-cottage")
        if again.returncode != 0 or b"HL-0002" not in again.stdout:
            fail(f"{why}: the next issue says {again.returncode} {again.stdout[:200]!r} {again.stderr[:300]!r}")
        verified = self.run("verify")
        if verified.returncode != 0:
            fail(f"{why}: verify says {verified.stdout[-300:]!r} {verified.stderr[-300:]!r}")

    def leave(self):
        shutil.rmtree(self.path, ignore_errors=True)


def prepare():
    shutil.copytree(root / "samples", template, ignore=shutil.ignore_patterns("*.png", "old-house", "joinery"))
    made = subprocess.run([program, "issue", "sewing-workshop"], cwd=template, capture_output=True)
    assert made.returncode == 0, made.stderr


commands = {
    "check": ["check", "tt-cottage"],
    "draft": ["draft", "tt-cottage", "-o", "out.pdf"],
    "issue": ["issue", "tt-cottage", "--copy", "copy.pdf"],
}


def told(run):
    """A sentence for a person, and what to do next."""
    return b"error" in run.stderr and len(run.stderr) > 30


def one_allocation(job):
    command, at, for_ever, reference = job
    bench = Bench(f"memory-{os.getpid()}")
    before = bench.files()
    environment = dict(os.environ, LD_PRELOAD=str(no_memory), OHMLEAF_FAIL_AT=str(at))
    if for_ever:
        environment["OHMLEAF_FAIL_ON"] = "1"
    run = bench.run(*commands[command], env=environment)
    why = f"{command}, allocation {at}{' and all after' if for_ever else ''}"
    found = []
    extra = set(bench.files()) - set(before)
    if run.returncode == 3:
        if not told(run):
            found.append(f"{why}: no message: {run.stderr[:200]!r}")
        whole = all(f == "copy.pdf" or f == "out.pdf" for f in extra)
        if not whole:
            found.append(f"{why}: left behind: {extra}")
    elif run.returncode != reference[0] or (command == "check" and run.stdout != reference[1]):
        found.append(f"{why}: exit code {run.returncode} {run.stderr[-300:]!r}")
    for pdf in extra:
        bytes_ = (bench.path / pdf).read_bytes()
        if not (bytes_.startswith(b"%PDF") and bytes_.rstrip().endswith(b"%%EOF")):
            found.append(f"{why}: half a file: {pdf}")
    count = len(wrong)
    if command == "issue" and (run.returncode != 3 or random.random() < 0.05):
        bench.sound(why)
    found += wrong[count:]
    del wrong[count:]
    bench.leave()
    return run.returncode == 3, found


def memory(only=None):
    for command in [only] if only else commands:
        bench = Bench("count")
        environment = dict(os.environ, LD_PRELOAD=str(no_memory), OHMLEAF_COUNT=str(here / "n"))
        sound = bench.run(*commands[command], env=environment)
        total = int((here / "n").read_text())
        # The last ones always: by then files stand beside those whose names they are to take.
        places = sorted({*range(1, total + 1, share), *range(max(1, total - LAST), total + 1)})
        jobs = [(command, at, for_ever, (sound.returncode, sound.stdout))
                for for_ever in (False, True) for at in places]
        with concurrent.futures.ProcessPoolExecutor(2) as pool:
            results = list(pool.map(one_allocation, jobs, chunksize=16))
        refused = sum(r for r, _ in results)
        for _, found in results:
            for what in found:
                fail(what)
        if refused == 0:
            fail(f"{command}: control: no failed allocation was ever noticed")
        bad = sum(1 for _, f in results if f)
        row(f"no memory: {command}, each of {total} allocations{f', one in {share}' if share > 1 else ''}, once and for ever",
            len(results), f"{refused} told, {len(results) - refused - bad} did without, ")


def stdout():
    count = 0
    everything = [["--version"], ["--help"], ["check", "tt-cottage"], ["check", "--json", "tt-cottage"],
                  ["check", "--list"], ["limits", "zs", "--device", "B32"], ["forms"], ["find", "tallow"],
                  ["show", "HL-0001"], ["verify"], ["due"], ["issue", "tt-cottage"], ["draft", "tt-cottage"],
                  ["withdraw", "HL-0001", "--reason", "wrong flat", "--by", "rh"]]
    for arguments in everything:
        for how in ("full", "closed", "pipe"):
            bench = Bench("stdout")
            if how == "full":
                with open("/dev/full", "w") as full:
                    run = bench.run(*arguments, stdout=full, stderr=subprocess.PIPE, capture_output=False)
            elif how == "closed":
                run = subprocess.run(["sh", "-c", '"$0" "$@" >&-', program, *arguments], cwd=bench.path,
                                     stderr=subprocess.PIPE)
            else:
                read, write = os.pipe()
                os.close(read)
                run = bench.run(*arguments, stdout=write, stderr=subprocess.PIPE, capture_output=False)
                os.close(write)
            count += 1
            if run.returncode != 3 or not told(run):
                fail(f"standard output {how}: {arguments}: {run.returncode} {run.stderr[:200]!r}")
            if arguments[0] == "issue":
                bench.sound(f"standard output {how}")
            bench.leave()
    row("standard output full, closed or a broken pipe, every kind of command", count, "")


def disk():
    """A file system of a few pages, filled to the brim: only root may mount one."""
    if os.geteuid() != 0:
        return row("full disk", 0, "needs root: ")
    count = filled = 0
    mount = here / "small"
    mount.mkdir()
    tried = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", mount], capture_output=True)
    if tried.returncode != 0:  # a container without the right to
        return row("full disk", 0, "nothing may be mounted here: ")
    subprocess.run(["umount", mount], check=True)
    for command in ("draft", "issue"):
        for left in (0, 4, 16, 40, 64, 96, 128, 200):
            subprocess.run(["mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", mount], check=True)
            try:
                shutil.copytree(template, mount / "w", ignore=shutil.ignore_patterns("new-board"))
                free = os.statvfs(mount).f_bavail * os.statvfs(mount).f_bsize
                with open(mount / "ballast", "wb") as ballast:
                    ballast.write(bytes(max(0, free - left * 1024)))
                before = {p for p in (mount / "w").rglob("*")}
                run = subprocess.run([program, *commands[command]], cwd=mount / "w", capture_output=True)
                count += 1
                if run.returncode == 3:
                    filled += 1
                    new = [p for p in (mount / "w").rglob("*") if p not in before and p.suffix == ".pdf"
                           and "archive" not in str(p.relative_to(mount / "w"))]
                    if not told(run) or new:
                        fail(f"full disk, {left} kB left: {command}: {new} {run.stderr[:300]!r}")
                elif run.returncode != 0:
                    fail(f"full disk, {left} kB left: {command}: {run.returncode} {run.stderr[:300]!r}")
                (mount / "ballast").unlink()
                again = subprocess.run([program, "issue", "tt-cottage"], cwd=mount / "w", capture_output=True)
                checked = subprocess.run([program, "verify"], cwd=mount / "w", capture_output=True)
                if again.returncode != 0 or b"HL-0002" not in again.stdout or checked.returncode != 0:
                    fail(f"full disk, {left} kB left: afterwards: {again.stderr[:300]!r} {checked.stdout[-200:]!r}")
            finally:
                subprocess.run(["umount", mount], check=True)
    if filled < 6:
        fail("full disk: control: the disk was hardly ever full")
    row("full disk: draft and issue", count, f"{filled} told, ")


def readonly():
    """As another user, for whom the folder is read-only: root may write anywhere."""
    count = 0
    for command in ("draft", "issue"):
        bench = Bench("readonly")
        os.chmod(here, 0o755)
        for path in [bench.path, *bench.path.rglob("*")]:
            os.chmod(path, 0o555 if path.is_dir() else 0o444)
        before = {p: p.stat().st_mtime_ns for p in bench.path.rglob("*")}
        as_other = dict(user=65534, group=65534, extra_groups=[]) if os.geteuid() == 0 else {}
        run = bench.run(*commands[command], **as_other)
        count += 1
        if run.returncode != 3 or not told(run) or b"ermission" not in run.stderr:
            fail(f"read-only folder: {command}: {run.returncode} {run.stderr[:300]!r}")
        if before != {p: p.stat().st_mtime_ns for p in bench.path.rglob("*")}:
            fail(f"read-only folder: {command} changed something")
        for path in [bench.path, *bench.path.rglob("*")]:
            os.chmod(path, 0o755 if path.is_dir() else 0o644)
        bench.leave()
    row("read-only folder", count, "")


def signals():
    count = interrupted = 0
    for command in commands:
        bench = Bench("signals")
        begun = time.monotonic()
        bench.run(*commands[command])
        usual = time.monotonic() - begun
        bench.leave()
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            steps = max(4, 120 // share)
            for step in range(steps):
                bench = Bench("signals")
                before = bench.files()
                child = subprocess.Popen([program, *commands[command]], cwd=bench.path,
                                         stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
                time.sleep(usual * 1.2 * step / steps)
                child.send_signal(number)
                _, said = child.communicate(timeout=60)
                count += 1
                why = f"{command}, signal {number} after {step} of {steps}"
                if child.returncode == 130:
                    interrupted += 1
                    if b"interrupted" not in said:
                        fail(f"{why}: no message: {said[:200]!r}")
                elif child.returncode not in (0, -number):  # done already, or not yet begun
                    fail(f"{why}: exit code {child.returncode} {said[:200]!r}")
                extra = [f for f in bench.files() if f not in before]
                for file in extra:
                    bytes_ = (bench.path / file).read_bytes()
                    if not file.endswith(".pdf") or not bytes_.rstrip().endswith(b"%%EOF"):
                        fail(f"{why}: left behind: {file}")
                if command == "issue":
                    bench.sound(why)
                bench.leave()
    if interrupted < count // 5:
        fail(f"signals: control: only {interrupted} of {count} came in time")
    row("SIGINT, SIGTERM and SIGHUP at any moment", count, f"{interrupted} in time, ")


def terminal():
    """A terminal that goes away in the middle: the other end of it is closed."""
    count = 0
    for command in commands:
        for step in range(max(2, 20 // share)):
            bench = Bench("terminal")
            master, slave = os.openpty()
            child = subprocess.Popen([program, *commands[command]], cwd=bench.path, stdin=slave, stdout=slave,
                                     stderr=slave, start_new_session=True,
                                     preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0))
            os.close(slave)
            time.sleep(0.004 * step)
            os.close(master)
            code = child.wait(timeout=60)
            count += 1
            if code not in (0, 3, 130, -signal.SIGHUP):
                fail(f"a terminal that goes away: {command}: {code}")
            if command == "issue":
                bench.sound("a terminal that goes away")
            bench.leave()
    row("a terminal that goes away", count, "")


template = here / "template"
try:
    prepare()
    for part in parts:
        name, *only = part.split(":")
        {"memory": memory, "stdout": stdout, "disk": disk, "readonly": readonly, "signals": signals,
         "terminal": terminal}[name](*only)
finally:
    shutil.rmtree(here, ignore_errors=True)
print(f"faults: {len(wrong)} wrong")
sys.exit(1 if wrong else 0)
