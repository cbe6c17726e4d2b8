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
import shutil
import signal
import sys
import tempfile
import time
import warnings
from collections import Counter
from pathlib import Path

import numpy as np
from attack_breaks import disks, kills
from attack_inputs import (
    BOX,
    COPY,
    RULES,
    contents,
    damaged,
    made_portfolio,
    must,
    odd_text,
    seeds_of_files,
    simple_codes,
)

from critique.errors import CritiqueError
from critique.words.printed import may_be_shown

FULL = {"files": 20_000, "pictures": 2_000, "texts": 500, "ledgers": 200, "kills": 100, "disks": 40}
QUICK = {"files": 300, "pictures": 8, "texts": 40, "ledgers": 3, "kills": 8, "disks": 4}
HANG_SECONDS = 60  # of one case; a busy machine takes a few
PROGRESS = 100  # cases between two lines on standard error


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
