"""What stands before the tables of the reference pages, with examples that load."""

from __future__ import annotations

from typing import Final

PART_EXAMPLE: Final = """\
# yaml-language-server: $schema=../docs/part.schema.json
name: Winch wheel
drawing: WW-7
lot: 3
material: 42CrMo4+QT
blank: {form: forging, diameter: 330 mm, bore: 70 mm, z_from: -5 mm, z_to: 105 mm}

datums: {A: bore, B: lower_face}

features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 100 mm}
  - name: bore
    kind: bore
    diameter: 90 mm
    z_from: 0 mm
    z_to: 100 mm
    tolerance: H7
    roughness: 1.6 um
  - name: teeth
    kind: external_gear
    teeth: 60
    module: 5 mm
    z_from: 0 mm
    z_to: 60 mm
    flank_class: {year: 2013, class: 8}
    datums: [A, B]
  - {name: hub, kind: turned_diameter, diameter: 160 mm, z_from: 60 mm, z_to: 100 mm}
  - {name: keyway, kind: keyway, on: bore, width: 20 mm, depth: 5 mm, z_from: 0 mm, z_to: 100 mm}
  - {name: bore_chamfer, kind: chamfer, on: bore, edge: both, size: 2 mm}

clampings:
  - {name: I, up: lower, hold: outside jaws, on: blank, rests_on: blank, z_from: 65 mm, z_to: 105 mm}
  - name: II
    up: upper
    hold: inside jaws
    on: bore
    rests_on: lower_face
    z_from: 0 mm
    z_to: 40 mm
    riser: 90 mm
"""

BEVEL_EXAMPLE: Final = """\
features:
  - {name: hub, kind: turned_diameter, diameter: 260 mm, z_from: 0 mm, z_to: 80 mm}
  - name: face_cone
    kind: taper
    lower_diameter: 409 mm
    upper_diameter: 298 mm
    z_from: 80 mm
    z_to: 107 mm
  - name: bevel
    kind: bevel_gear
    on: face_cone
    apex: upper
    teeth: 40
    mate_teeth: 20
    module: 10 mm
    face_width: 60 mm
    z_from: 80 mm
    z_to: 107 mm
    mounting_distance: 184.5 mm
    mounting_face: lower_face
    flank_class: {year: 2013, class: 8}
"""

PART: Final = """\
# The part file

<!-- Written by python -m sequencer.files.reference from the models: change those, then run it again. -->

A part file says what the drawing and the order say: one YAML file a part. This page is enough to write one.
`sequencer new FILE` asks a few questions and writes a first file with a remark at each key;
`sequencer check FILE` says everything that is wrong with a file at once, each fault with line, limit and
remedy.

## A small part that plans as it stands

```yaml
{example}```

The first line lets an editor with a YAML language server complete keys and mark faults while you type. It
names the schema by its path from the file; `docs/part.schema.json` is that schema.

## Where things are

* The part stands on its axis. **z runs up the axis**; 0 is the lower finished face. The blank begins below
  0 by the stock on that face.
* **Diameters are diameters**, never radii. Depths of keyways, pockets and holes are depths.
* `lower` and `upper` mean the sides of the drawing, whichever way the part is clamped. In a clamping `up`
  says which of the two looks up.
* Each stretch of the outside is described by one feature: a `turned_diameter`, a `taper`, teeth, a groove.
  Where no feature says anything the blank stays as it is. Grooves are cut into what carries them.
* Teeth may lie on a turned diameter that makes their tip: write `on:` with its name. A smaller step may lie
  inside a longer cylinder; then the deeper cut counts.

## Quantities

Every quantity has its unit: `12.5 mm`, `1/2 in`, `20 deg`, `20°30'`, `1.3 t`, `5 d`. Only a bare `0` needs
none. Decimals are written with a point. The sheets show a quantity as it is written here. All units are
[listed below](#units).

The size of teeth is a module, `8 mm`, or a diametral pitch: `DP 4` for spur gears; for helical gears
`NDP 4` (normal) or `TDP 4` (transverse). The number of teeth is a plain whole number.

A size may carry limits: an ISO 286 class (`H7` for holes, `h7` for shafts), `±0.05 mm`, or
`+0.02/-0.01 mm`. Sizes without limits fall under the shop's general tolerance.

## Names and datums

Each feature has a name of its own: it begins with a letter and holds letters, digits, `_` and `-`, at most
{longest} characters; `title` holds the words for the sheets, up to 120 characters. Other features,
clampings and rules refer to it by that name. `blank`, `part` and `bench` are no names: they mean the raw
surface, work on the whole part and work beside the machine. A feature and a clamping never share a name.

`datums` gives the datum letters of the drawing to features: `{{A: bore, B: lower_face}}`. A feature then
refers to letters, in order of priority: `datums: [A, B]`; so does a tolerance:
`{{characteristic: runout, value: 0.04 mm, to: [A]}}`. Further letters, such as P1, may be used for process
datums. Datums never refer to each other in a circle.

## Clampings

A clamping holds the part one way until it is released. With jaws, `z_from` and `z_to` say which band of the
surface they cover: nothing can be cut there. The band is never longer than the jaws of the shop are high
(`height` of the clamping means). With `bolts`, `on` names a bolt circle: through holes, or blind holes that
look down. `rests_on` names the face it stands on, or `blank`. A cutter that runs out below the part needs a
`riser` that the shop has for these means.

A part that is hardened is held once more afterwards: list the same holding again, as III, or another one on
surfaces that are finished by then. A clamping that stands on a raw face or grips a raw surface is of no use
after hardening. What is to be finished hard and has no such clamping is planned to be ground outside, with a
warning.

Leave `clampings` out and some are proposed: several ways to hold the part are tried with all tools, one
clamping where everything is reached from one side, a further one where the part is hardened. The sheets say
which, as an estimate.

## Bevel teeth

A bevel gear lies on the cone that its tips make. `apex` says which way the cone points; the teeth are cut
from that side. `module` is the transverse one at the large end, `mate_teeth` gives the cone angle together
with `shaft_angle` (90 deg if left out), and `mounting_distance` runs from `mounting_face` to the apex:

```yaml
{bevel}```

## Holes

Holes with `ream` are drilled and reamed; a fine boring head that is set to one size goes into the shop file
as a `reamer`. A position tolerance is compared with what machine and method hold: drills wander, an end mill
on a helix places a hole better. A bore that is too long for every bar is written as two features, each for
the length that is bored from its own side.

## YAML

The file is UTF-8 text, at most {largest:g} MB. Lists begin each entry with a dash, or stand in `[a, b]`;
groups stand below their key, two spaces further right, or in `{{key: value}}`. Texts that look like numbers
or hold `: ` or `#` stand in quotes: `revision: "0"`. `&name`, `*name` and `<<` may be used to say something
once. A key is never written twice and never left without a value.
"""

SHOP_EXAMPLE: Final = """\
# yaml-language-server: $schema=../docs/shop.schema.json
name: Small shop
machine:
  name: Mill 1
  table:
    load: 2 t
    swing: 1000 mm
    height: 900 mm
    power: 40 kW
    torque: 5000 N m
    speed: 400 rpm
    speed_at_mass: [{mass: 500 kg, speed: 350 rpm}, {mass: 2 t, speed: 200 rpm}]
    synchronous_speed: 250 rpm
  spindle: {speed: 8000 rpm, power: 30 kW, torque: 300 N m, tilt_from: -20 deg, tilt_to: 110 deg,
            reach_inside: 300 mm, head_diameter: 300 mm}
  times: {chip_to_chip: 15 s, heavy_tool_change: 30 s, manual_tool_change: 6 min, mode_change: 20 s,
          positioning: 5 s, rapid: 20 m/min, index: 3 s, synchronise: 1 min, clamp: 30 min, indicate: 15 min,
          turn_over: 40 min, release: 10 min, probe: 1 min, measure_tooth_system: 12 min, apex_check: 6 min,
          wash: 4 min, soak: 60 min, receive: 20 min, independent_check: 90 min}
  capability: {linear: 6 um, angular: 6 arcsec, spindle_runout: 3 um, reclamping: 10 um,
               reclamping_tilt: 12 um}
  gear_methods: [hobbing, end-mill milling]
magazine: {pockets: 40, pitch: 130 mm, diameter_full: 125 mm, diameter_free: 250 mm, length: 500 mm,
           tool_mass: 25 kg, heavy_from: 12 kg, tilting_moment: 50 N m, total_mass: 400 kg, residents: [T90]}
clamping_means:
  - {name: jaws, hold: outside jaws, diameter_from: 100 mm, diameter_to: 900 mm, force: 120 kN, mass: 150 kg}
tools:
  - {name: T01, kind: turning, title: Rough turning, use: [outside, face], stage: [rough],
     corner_radius: 1.2 mm, depth: 6 mm, body_diameter: 60 mm, functional_length: 180 mm,
     overall_length: 260 mm, mass: 6 kg}
  - {name: T20, kind: hob, title: Hob of module 5, material: HSS-PM, module: 5 mm, outside_diameter: 110 mm,
     length: 130 mm, gashes: 12, hand: right, body_diameter: 110 mm, functional_length: 250 mm,
     overall_length: 390 mm, mass: 11 kg}
  - {name: T90, kind: probe, title: Touch probe, material: none, ball_diameter: 6 mm, reach: 150 mm,
     body_diameter: 60 mm, functional_length: 210 mm, overall_length: 290 mm, mass: 2 kg}
materials:
  - {name: 42CrMo4+QT, group: quenched and tempered steel, kc11: 2000 MPa, mc: 0.25}
conditions:
  - {method: turning, tool_material: carbide, group: quenched and tempered steel, stage: rough,
     cutting_speed: 170 m/min, feed: 0.4 mm, depth: 4 mm, source: own trials}
  - {method: hobbing, tool_material: HSS-PM, group: quenched and tempered steel, stage: rough,
     cutting_speed: 55 m/min, feed: 3 mm, source: own trials}
rates: {machine_hour: 120, setup_hour: 70, inspection_hour: 70}
"""

SHOP: Final = """\
# The shop file

<!-- Written by python -m sequencer.files.reference from the models: change those, then run it again. -->

A shop file says what one machine and everything round it can do: table and spindle, times, magazine,
clamping means, tools, materials, cutting conditions, rates, and the rules of the house. One file serves all
parts. `parts/shop.yaml` is a complete example; all its numbers are invented. Put your own in their place:
times, prices and cutting conditions decide the plan.

## A small shop that loads

```yaml
{example}```

The first line lets an editor with a YAML language server complete keys; `docs/shop.schema.json` is the
schema.

## What to know

* Quantities have their unit, as in the [part file](part-file.md#quantities); numbers without a dimension
  (teeth, starts, prices, rates) have none.
* Tools are whole assemblies of holder and cutter as they stand in a pocket. Their dimensions follow the
  symbols of ISO 13399 where it has one; the symbol stands behind the meaning. Reach is judged by the
  functional length, the pocket by the overall length and the body diameter.
* A tool's own `cutting_speed` and `feed` win over the table of `conditions`; what a part file gives wins
  over both. What comes from the table is marked as an estimate on every sheet.
* `conditions` needs a row for each method, cutting material, material group and stage that is to be
  planned.
* `limits`, `stock` and `general_tolerance` are choices of the house; each has a usual value.
* `rules` changes rules of the trade (off, or a should instead of a must) and adds own ones between named
  features. Each change has an owner, a date and a reason.
* Rates are money an hour in one currency; durations on the machine are minutes (`min`, `s` or `h`), lead
  times days (`d`).
* What a plan costs follows from `rates`, `effort`, `risks`, the `price`, `uses` and `renewal_price` of tools
  and the `price_per_kg` of a material; [studies.md](studies.md) says how. What has no price counts nothing
  and is named; what is left out of `effort` and `risks` is an estimate and marked so.
"""
