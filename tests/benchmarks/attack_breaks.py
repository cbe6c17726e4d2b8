"""Runs that die while they write, killed at each thing they do to the disk or stopped by a full one."""

import os
import resource
import shutil
import signal
import sys
from pathlib import Path

import numpy as np
from attack_inputs import BOX, contents, made_portfolio, must, simple_codes

from critique.errors import CritiqueError
from critique.words.printed import may_be_shown

SEEN_EVENTS = ("os.rename", "os.mkdir", "os.remove", "open", "shutil.rmtree")  # of Python's audit, at which runs die


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
