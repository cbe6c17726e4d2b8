"""How steady the findings are when only the photograph changes: `robustness.py FOLDER [--from N] [--to N]`.

Each picture of the folder (its files from the Nth to the Nth, where that is asked for) is judged as it is and again
cropped by 3 %, turned by 2° either way and cropped, mirrored, as JPEG of quality 60, and under four casts of ΔE00 3
(`others` of `eye_steadiness.py`). Prints which findings moved, and how many.
Bars: 98 % unmoved, none by two levels.
"""

import argparse
import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "reference_data"))

from eye_steadiness import others
from make_photograph_spread import pictures_of

from critique.advice.advise import judge
from critique.advice.finding import LEVELS, Finding
from critique.measures.measure import measure_picture


def levels(findings: tuple[Finding, ...]) -> dict[str, int]:
    return {finding.subject: LEVELS.index(finding.level) for finding in findings}


def main(options: argparse.Namespace) -> None:
    judged = moved = far = 0
    subjects: Counter[str] = Counter()
    kinds: Counter[str] = Counter()
    for number, picture in enumerate(pictures_of(options.folder), 1):
        if not options.first <= number <= options.last:
            continue
        before = levels(judge(picture, measure_picture(picture)))
        for kind, other in others(picture):
            after = levels(judge(other, measure_picture(other)))
            for subject in sorted(before.keys() | after.keys()):
                step = abs(before.get(subject, 0) - after.get(subject, 0))
                judged, moved, far = judged + 1, moved + (step > 0), far + (step > 1)
                if step:
                    subjects[subject] += 1
                    kinds[kind] += 1
                    was, now = before.get(subject, 0), after.get(subject, 0)
                    print(f"{picture.file} {kind}: {subject} {was} → {now}", flush=True)
    print(f"{judged} findings, {judged - moved} unmoved ({(judged - moved) / max(judged, 1):.1%}), {far} by two levels")
    print("by finding:", dict(subjects.most_common()))
    print("by change:", dict(kinds.most_common()))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--from", dest="first", type=int, default=1)
    parser.add_argument("--to", dest="last", type=int, default=sys.maxsize)
    main(parser.parse_args())
