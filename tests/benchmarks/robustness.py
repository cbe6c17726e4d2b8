"""How steady the findings are when only the photograph changes: `python tests/benchmarks/robustness.py FOLDER`.

Each picture of the folder is judged as it is and again through each change of
`reference_data/make_photograph_spread.py` (exposure ±10 %, four casts of ΔE00 4, JPEG 60, a crop of 3 %, half
the size). Prints how many findings moved.
"""

import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "reference_data"))

from make_photograph_spread import photographs, pictures_of

from critique.advice.advise import judge
from critique.advice.finding import LEVELS, Finding
from critique.measures.measure import measure_picture


def levels(findings: tuple[Finding, ...]) -> dict[str, int]:
    return {finding.subject: LEVELS.index(finding.level) for finding in findings}


def main(folder: Path) -> None:
    judged = moved = far = 0
    subjects: Counter[str] = Counter()
    kinds: Counter[str] = Counter()
    for picture in pictures_of(folder):
        before = levels(judge(picture, measure_picture(picture)))
        for kind, other in photographs(picture):
            after = levels(judge(other, measure_picture(other)))
            for subject in before.keys() | after.keys():
                step = abs(before.get(subject, 0) - after.get(subject, 0))
                judged, moved, far = judged + 1, moved + (step > 0), far + (step > 1)
                if step:
                    subjects[subject] += 1
                    kinds[kind] += 1
                    print(f"{picture.file} {kind}: {subject} {before.get(subject, 0)} → {after.get(subject, 0)}")
    print(f"{judged} findings, {judged - moved} unmoved ({(judged - moved) / judged:.1%}), {far} moved two levels")
    print("by finding:", dict(subjects.most_common()))
    print("by change:", dict(kinds.most_common()))


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(Path(sys.argv[1]))
