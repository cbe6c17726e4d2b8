"""Attack the program with files, pictures, ledgers and moments made for it; run by hand, and quickly by CI.

    python tests/benchmarks/attack.py [--full] [--seed 1] [--only files pictures texts ledgers kills disks]

Everything is made here from the seed, nothing is fetched. Each case ends right, or in one line of the program's own;
anything else has escaped: another exception, a hang of more than a minute, a death of the process, a NaN, something
half-written, a result that is not that of an undamaged run. Prints the counts by class, and leaves with 1 when any
escaped. With --full it tries 20,000 files, 2,000 pictures, 500 texts, 200 ledgers, 100 kills and 40 full disks.
"""

import argparse
import json
import logging
import os
import resource
import shutil
import signal
import sys
import tempfile
import time
import warnings
from collections import Counter
from pathlib import Path

import numpy as np
from attack_inputs import BOX, RULES, damaged, odd_text, seeds_of_files, simple_codes

from critique.errors import CritiqueError
from critique.words.printed import may_be_shown

FULL = {"files": 20_000, "pictures": 2_000, "texts": 500, "ledgers": 200, "kills": 100, "disks": 40}
QUICK = {"files": 300, "pictures": 8, "texts": 40, "ledgers": 3, "kills": 8, "disks": 4}
HANG_SECONDS = 60  # of one case; a busy machine takes a few
COPY = 10**9  # added to a picture's number: the same again, which a portfolio takes over
PROGRESS = 100  # cases between two lines on standard error
SEEN_EVENTS = ("os.rename", "os.mkdir", "os.remove", "open", "shutil.rmtree")  # of Python's audit, at which runs die


class Escaped(AssertionError):
    """What must not happen."""


def must(holds, what):
    if not holds:
        raise Escaped(what)


# Each class: what is made once, and a case by its number; a case returns, or raises an error of one line.


def files(scratch, seed):
    """Mutated files of every format."""
    from critique.picture.read import read_picture

    made = list(seeds_of_files().values())

    def case(number):
        rng = np.random.default_rng([seed, number])
        picture = read_picture(damaged(made[number % len(made)], rng), "attacked")
        must(np.isfinite(picture.lab).all() and min(picture.lab.shape[:2]) >= 1, "a picture with a NaN")
        must(all(map(may_be_shown, (*picture.notes, picture.profile))), "a note that can't be shown")

    return case


def pictures(scratch, seed):
    """Simple and extreme pictures, each reviewed, and in turn compared, followed, charted for, written as pages."""
    import critique
    from critique.picture.picture import picture_from_srgb
    from critique.report.page import page_html
    from critique.report.plates.review_plates import draw_plates

    def whole(result):
        json.loads(result.as_line(), parse_constant=lambda word: must(False, f"{word} in a record"))

    def drawn(number):
        return picture_from_srgb(simple_codes(np.random.default_rng([seed, number])))

    def case(number):
        picture = drawn(number)
        review = critique.review(picture, study=number % 50 == 10)
        whole(review)
        told = [*review.advice.verdict, *(finding.text for finding in review.advice.findings)]
        must(" nan" not in " ".join(told), "a sentence with a NaN")
        for offer in review.advice.suggestions:
            must(np.isfinite(offer.preview.lab).all(), "a preview with a NaN")
        if number % 50 == 10:
            must(" nan" not in page_html(review, draw_plates(review)).split("<main>")[1].split("src=")[0], "a NaN")
        elif number % 20 == 1:
            whole(critique.compare(picture, drawn(number + 10**6)))
        elif number % 50 == 2:
            whole(critique.palette(picture))
        elif number % 100 == 3:
            whole(critique.passes([picture, drawn(number + 10**6), drawn(number + 2 * 10**6)]))
        elif number % 100 == 4:
            whole(critique.lineup([picture, drawn(number + 10**6)]))
        elif number % 200 == 5:
            critique.write(review, scratch / "review")
        elif number % 200 == 6:
            critique.write(critique.compare(picture, drawn(number + 10**6)), scratch / "comparison")
        elif number % 500 == 7:
            folder = scratch / "simple"
            shutil.rmtree(folder, ignore_errors=True)
            made_portfolio(folder, [number + place * 10**6 for place in range(3)], seed)

    return case


def made_portfolio(folder, numbers, seed):
    """A portfolio of simple pictures below ``folder``."""
    from PIL import Image

    from critique.portfolio.run import make_portfolio

    (folder / "pictures").mkdir(parents=True)
    for number in numbers:
        codes = simple_codes(np.random.default_rng([seed, number % COPY]))
        Image.fromarray(codes).save(folder / "pictures" / f"{number}.png")
    return make_portfolio(folder / "pictures", folder / "out", jobs=1, say=lambda line: None)


def texts(scratch, seed):
    """Boxes, rules and norms that no painter wrote; the good ones first."""
    from critique.advice.norms import RANKS, Norms, read_norms, write_norms
    from critique.paints.box import load_box
    from critique.portfolio.rules import read_rules

    write_norms(Norms("three", 3, {"greens.area_share": np.array(RANKS) / 100}), scratch / "norms.csv")
    norms = (scratch / "norms.csv").read_text(encoding="utf-8")
    kinds = ((load_box, BOX, "toml"), (read_rules, RULES, "toml"), (read_norms, norms, "csv"))

    def case(number):
        read, good, suffix = kinds[number % 3]
        path = scratch / f"attacked.{suffix}"
        odd = number % 25
        for left in (path,):
            left.unlink(missing_ok=True)
        if odd == 20:
            os.mkfifo(path)
        elif odd == 21:
            path.symlink_to("/dev/zero")
        elif odd == 22:
            path.symlink_to(path)
        elif odd == 23:
            path.write_bytes(b"#" * 2_000_000)
        else:
            rng = np.random.default_rng([seed, number])
            path.write_bytes(good.encode() if odd == 24 else odd_text(good, rng))
        read(path)
        must(odd not in (20, 21, 22, 23), "what is no text file was read")

    return case


def contents(folder):
    """Every file below a folder but ledgers."""
    paths = sorted(path for path in folder.rglob("*") if path.is_file() and not path.name.startswith("ledger."))
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}


def ledgers(scratch, seed):
    """Damaged ledgers: the next run ends like an undamaged one, and says what it could not trust."""
    from critique.portfolio.run import make_portfolio

    base = scratch / "base"
    if not base.exists():
        made_portfolio(base, (1, 1 + COPY), seed)
    before = contents(base / "out")
    whole = (base / "out" / "ledger.sqlite").read_bytes()

    def case(number):
        rng = np.random.default_rng([seed, number])
        place = scratch / "damaged"
        shutil.rmtree(place, ignore_errors=True)
        shutil.copytree(base, place)
        data = bytearray(whole)
        kind = number % 5
        if kind == 0:
            data = bytearray(damaged(whole, rng))
        elif kind == 1:
            data = data[: int(rng.integers(0, len(data)))]
        elif kind == 2:
            for at in rng.integers(0, len(data), 12):
                data[at] = rng.integers(0, 256)
        else:  # letters of what was written, which SQLite can't know to be wrong
            used = np.flatnonzero(np.frombuffer(whole, np.uint8) > 32)
            for at in rng.choice(used, 3 if kind == 3 else 40):
                data[at] ^= 1
        (place / "out" / "ledger.sqlite").write_bytes(bytes(data))
        said = []
        done = make_portfolio(place / "pictures", place / "out", jobs=1, say=said.append)
        must(done.standing == 2 and not done.failed, f"{done.standing} of 2 pictures stand")
        must(contents(place / "out") == before, "another result than that of a whole ledger")
        must(said or not done.reviewed, "measured again without a word")

    return case


def in_child(work):
    """Run ``work`` in a process of its own: its exit code, or minus the signal that ended it."""
    child = os.fork()
    if child == 0:
        code = 99
        try:
            work()
            code = 0
        except CritiqueError as error:
            code = 10 if may_be_shown(str(error)) else 98
        except BaseException as error:
            print(f"  {type(error).__name__}: {error}", file=sys.stderr, flush=True)
        finally:
            os._exit(code)
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status)


def writers(scratch, seed):
    """Whatever writes: its name, what it does below a folder, and what is there before."""
    import critique
    from critique.advice.norms import RANKS, Norms, write_norms
    from critique.paints.box_file import OwnPaint, add_own_paint
    from critique.paints.dabs import Dab
    from critique.picture.picture import picture_from_srgb
    from critique.portfolio.run import make_portfolio

    review = critique.review(picture_from_srgb(simple_codes(np.random.default_rng([seed, 77]))))
    base = scratch / "written"
    if not base.exists():
        made_portfolio(base, (3, 4), seed)

    def begin(folder, name):
        if name == "portfolio":
            shutil.copytree(base / "pictures", folder / "pictures")
        elif name == "portfolio again":
            shutil.copytree(base, folder, dirs_exist_ok=True)
            (folder / "pictures" / "3.png").rename(folder / "pictures" / "another.png")
        elif name == "review again":
            critique.write(review, folder / "meadow")
            (folder / "meadow" / "report.html").write_bytes(b"an earlier page")
        elif name in ("norms", "paint"):
            (folder / "box.toml").write_text(BOX, encoding="utf-8")
            (folder / "norms.csv").write_text("an earlier table", encoding="utf-8")

    def work(folder, name):
        if name.startswith("portfolio"):
            make_portfolio(folder / "pictures", folder / "out", jobs=1, say=lambda line: None)
        elif name.startswith("review"):
            critique.write(review, folder / "meadow")
        elif name == "norms":
            write_norms(Norms("three", 3, {"greens.area_share": np.array(RANKS) / 100}), folder / "norms.csv")
        elif not (folder / "box.toml").read_text(encoding="utf-8").count("old green"):
            add_own_paint(folder / "box.toml", OwnPaint("old green", (Dab((24, -14, 10)), Dab((66, -22, 14), 10.0))))

    return ("review", "review again", "portfolio", "portfolio again", "norms", "paint"), begin, work


def whole_or_old(folder, before, after):
    """Nothing that can be seen by its name is anything but what it was, or what it will be."""
    for name, data in contents(folder).items():
        if not any(part.startswith(".") for part in Path(name).parts):
            must(data in (before.get(name), after.get(name)), f"{name} is half-written")
    if "meadow/report.html" in before:
        must((folder / "meadow" / "report.html").exists(), "a moment without any report")


def interrupted(scratch, seed, disk):
    """Runs that are killed at each thing they do to the disk, or whose disk is full; then the next run finishes."""
    names, begin, work = writers(scratch, seed)
    told = {}
    for name in names:
        folder = scratch / f"whole {name}"
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        begin(folder, name)
        before, steps = contents(folder), scratch / "steps"

        def counted(folder=folder, name=name, steps=steps):
            count = [0]
            sys.addaudithook(lambda event, given: count.__setitem__(0, count[0] + _step(event, given)))
            work(folder, name)
            steps.write_text(str(count[0]))

        must(in_child(counted) == 0, f"{name} does not run")
        told[name] = before, contents(folder), int(steps.read_text())

    def case(number):
        name = names[number % len(names)]
        before, after, steps = told[name]
        folder = scratch / "interrupted"
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        begin(folder, name)
        rng = np.random.default_rng([seed, number])
        last = int(rng.integers(1, steps + 1))
        room = int(rng.choice([0, 200, 5_000, 20_000, 60_000]))

        def dies():
            if disk:
                resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))
            else:
                left = [last]

                def hook(event, given):
                    if left[0] > 0 and _step(event, given):
                        left[0] -= 1
                        if not left[0]:
                            os.kill(os.getpid(), signal.SIGKILL)

                sys.addaudithook(hook)
            work(folder, name)

        code = in_child(dies)
        must(code in ((0, 10) if disk else (0, -signal.SIGKILL)), f"{name} ended with {code}")
        whole_or_old(folder, before, after)
        must(in_child(lambda: work(folder, name)) == 0, f"{name} can't be finished")
        found = contents(folder)
        hidden = [path for path in found if any(part.startswith(".") for part in Path(path).parts)]
        must(not hidden, f"{name} leaves {hidden[:2]}")
        others = [path for path in sorted({*found, *after}) if found.get(path) != after.get(path)]
        must(not others, f"{name} ends otherwise than unbroken: {others[:3]}")

    return case


def _step(event, given):
    """Whether an event of Python's audit is something that is done to the disk."""
    if event not in SEEN_EVENTS:
        return False
    return event != "open" or (isinstance(given[2], int) and bool(given[2] & (os.O_WRONLY | os.O_RDWR)))


def kills(scratch, seed):
    return interrupted(scratch, seed, disk=False)


def disks(scratch, seed):
    return interrupted(scratch, seed, disk=True)


CLASSES = {made.__name__: made for made in (files, pictures, texts, ledgers, kills, disks)}


def attack(name, number, seed, first=0):
    """Try so many cases of a class, in a process that may die: how each ended, and words for those that escaped."""
    ended, words, at, count = Counter(), Counter(), first, first + number
    with tempfile.TemporaryDirectory() as scratch:
        while at < count:
            reading, writing = os.pipe()
            child = os.fork()
            if child == 0:
                os.close(reading)
                _cases(CLASSES[name], Path(scratch), seed, at, count, writing)
                os._exit(0)
            os.close(writing)
            with open(reading, encoding="utf-8") as lines:
                for line in lines:
                    how, _, what = line.rstrip("\n").partition(" ")
                    ended[how] += 1
                    if what:
                        words[what] += 1
                        print(f"    {what}", file=sys.stderr, flush=True)
                    at += 1
                    if not at % PROGRESS:
                        print(f"    {name}: {at} of {count}, {ended['escaped']} escaped", file=sys.stderr, flush=True)
            code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
            if at < count:
                ended["escaped"] += 1
                hang = "hung" if code == -signal.SIGALRM else f"process ended with {code}"
                words[f"case {at}: {hang}"] += 1
                at += 1
    return ended, words


def _cases(made, scratch, seed, first, count, writing):
    warnings.simplefilter("ignore")
    logging.disable(logging.CRITICAL)
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)  # what libtiff prints of every damaged file
    with open(writing, "w", encoding="utf-8", buffering=1) as told:
        try:
            case = made(scratch, seed)
        except BaseException as error:
            told.write(f"escaped before any case: {type(error).__name__}: {ascii(str(error))[:200]}\n")
            return
        for number in range(first, count):
            signal.alarm(HANG_SECONDS)
            try:
                case(number)
                line = "right"
            except CritiqueError as error:
                line = "refused" if may_be_shown(str(error)) else f"escaped unprintable: {ascii(str(error))[:150]}"
            except BaseException as error:
                line = f"escaped case {number}: {type(error).__name__}: {ascii(str(error))[:200]}"
            signal.alarm(0)
            told.write(line + "\n")


def main():
    """Attack by every class, print the counts, and tell whether anything escaped."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--full", action="store_true")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, help="number of the first case, to share out a long class")
    parser.add_argument("--cases", type=int, help="how many, in place of the usual number")
    parser.add_argument("--only", nargs="+", choices=list(CLASSES), default=list(CLASSES))
    asked = parser.parse_args()
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    escaped = 0
    print(f"{'':<10}{'tried':>8}{'right':>8}{'one line':>10}{'escaped':>9}{'seconds':>9}", flush=True)
    for name in asked.only:
        begun = time.perf_counter()
        ended, words = attack(name, asked.cases or (FULL if asked.full else QUICK)[name], asked.seed, asked.first)
        escaped += ended["escaped"]
        tried = sum(ended.values())
        took = time.perf_counter() - begun
        print(
            f"{name:<10}{tried:>8}{ended['right']:>8}{ended['refused']:>10}{ended['escaped']:>9}{took:>9.0f}",
            flush=True,
        )
        for what, times in words.most_common(10):
            print(f"    {times} × {what}", flush=True)
    sys.exit(1 if escaped else 0)


if __name__ == "__main__":
    main()
