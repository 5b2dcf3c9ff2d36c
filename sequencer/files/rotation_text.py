"""Text of the reference page of the rotation file."""

from typing import Final

ROTATION_EXAMPLE: Final = """\
name: Week 14
shop: shop.yaml
start: 2027-04-05
parts:
  - {file: first_wheel.yaml, lot: 4, due: 2027-04-09}
  - {file: press_sleeve.yaml, lot: 2, due: 2027-04-30}
loaded: [T17, T19]
away:
  - {tool: T02, number: 1, leaves: 2027-04-01, back: 2027-04-07, why: repair}
"""

ROTATION: Final = """\
# Rotation file

A rotation file names the parts of a week (or of any stretch of time) that share one machine and its
magazine:

```yaml
{example}```

`sequencer week FILE` reads it with its part files and its shop file, whose names count from the folder of
the rotation file, and tells every fault of all of them with its line. Each part is planned by itself; then
the order is chosen in which the fewest days are late and, among those, the fewest tools are put into the
magazine, with a bound: no order that is as punctual puts in fewer. For a given order the tools needed
soonest are kept (Tang and Denardo, Operations Research 36(5), 1988). That is proven best for tools that
take one pocket each; wide tools are placed pocket by pocket, and where they leave a gap between the answer
and the bound, the answer says so.

The sheet tells for each part which tools stay, which are taken out and put in, and in which pocket each
stands; tools that stay keep their pocket where that is possible. Residents of the magazine always stay.

Days are working days of the shop file (`working_time`). A part that goes away between its clampings (heat
treatment, work outside) is counted on the machine as one block, and is ready by the time away later. A
finding says how long the machine is free meanwhile, and which parts of the week can be made then.

Findings: parts that are late; tools on order that come after a part begins or is due; tools that are away
or booked for other work while a part needs them; cutters that several parts want, with the lives that they
wear out together and the time between the parts for sharpening (`regrind_time` of a tool).

The lots are compared with one pallet, with two and with as many as the machine has (`pallets`,
`pallet_change` of the machine), clamped by hand and hydraulically (`actuation` of the clamping means;
`hydraulic_clamp` and `hydraulic_release` of the times, estimated as 0.4 and 0.2 of the times by hand where
they are left out): with one pallet the table waits during each set-up, with two the next piece is set up
while one is cut. One operator sets up; the lot goes through one clamping after the other.
"""
