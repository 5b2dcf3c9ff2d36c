"""Ten thousand gear data sheets, and the time they take: python tests/benchmarks/gear_sheets.py [COUNT]."""

from __future__ import annotations

import random
import sys
from time import perf_counter, process_time

from sequencer.datasheet import data_sheet
from sequencer.datasheet.options import wanted_from_options
from sequencer.errors import BadFile
from sequencer.papers.gear_sheet import gear_lines


def drawn(chance: random.Random) -> dict[str, str]:
    """Draw the words of one gear.

    Parameters
    ----------
    chance
        Where the numbers come from.
    """
    words = {
        "kind": chance.choice(("external_gear", "external_gear", "internal_gear")),
        "teeth": str(chance.randrange(17, 200)),
        "module": f"{chance.choice((2, 3, 4, 5, 6, 8, 10, 12, 16))} mm",
        "face_width": f"{chance.randrange(20, 200)} mm",
        "profile_shift": f"{chance.uniform(-0.2, 0.5):.3f}",
        "thickness_upper": "-0.06 mm",
        "thickness_lower": "-0.12 mm",
        "flank_class": f"ISO 1328-1:{chance.choice((1995, 2013))} class {chance.randrange(5, 10)}",
        "mate_teeth": str(chance.randrange(17, 60)),
    }
    if chance.random() < 0.6:
        words |= {"helix_angle": f"{chance.uniform(5, 35):.3f} deg", "hand": chance.choice(("right", "left"))}
    return words


def main(count: int) -> None:
    """Make the sheets and print the time.

    Parameters
    ----------
    count
        Number of gears.
    """
    chance = random.Random(1)
    gears = [drawn(chance) for _ in range(count)]
    begin, work = perf_counter(), process_time()
    made, refused, numbers, lines = 0, 0, 0, 0
    for words in gears:
        try:
            sheet = data_sheet(wanted_from_options(words))
        except BadFile:
            refused += 1
            continue
        made += 1
        numbers += len(sheet.facts)
        lines += len(gear_lines(sheet))
    seconds, worked = perf_counter() - begin, process_time() - work
    print(f"{made} sheets, {refused} gears refused, {numbers} numbers, {lines} lines")
    print(f"{seconds:.1f} s, {1000 * seconds / count:.2f} ms a gear; processor {worked:.1f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
