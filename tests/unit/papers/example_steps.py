"""Steps and reasons of the example plan, as tables."""

from __future__ import annotations

#: Operation, stage, action, method, tool, clamping, mode, minutes, cutting speed, revolutions, feed.
ROWS = """
part/receive | prepare | receive | - | - | bench | at rest | 20 | - | - | -
I/clamp | prepare | clamp | - | - | I | at rest | 35 | - | - | -
I/indicate | prepare | indicate | probing | T63 | I | at rest | 15 | - | - | -
lower_face/rough | rough | turn | turning | T01 | I | turning | 9.4 | 150 | 92.3 | 0.5
lower_face/finish | finish | turn | turning | T02 | I | turning | 6.2 | 200 | 123.1 | 0.2
rim/finish | finish | turn | turning | T02 | I | turning | 1.3 | 200 | 113.7 | 0.2
lower_bolts/drill | finish | drill | drilling | T15 | I | milling | 4.1 | 80 | 1455 | 0.22
lower_bolts/tap | finish | tap | tapping | T26 | I | milling | 2.6 | 12 | 191 | 2.5
II/clamp | prepare | clamp | - | - | II | at rest | 35 | - | - | -
II/indicate | prepare | indicate | probing | T63 | II | at rest | 15 | - | - | -
wheel/blank_rough | rough | turn | turning | T01 | II | turning | 18.7 | 150 | 71.8 | 0.5
bore/rough | rough | turn | boring | T03 | II | turning | 11.3 | 140 | 278 | 0.4
gap/rough | rough | groove | grooving | T08 | II | turning | 14.9 | 120 | 58.7 | 0.25
wheel/rough_lower | rough | cut teeth | hobbing | T42 | II | gear-synchronised | 64 | 60 | 1.75 | 3
wheel/rough_upper | rough | cut teeth | hobbing | T41 | II | gear-synchronised | 64 | 60 | 1.75 | 3
II/soak | prepare | soak | - | - | II | at rest | 60 | - | - | -
upper_face/finish | finish | turn | turning | T02 | II | turning | 4.8 | 200 | 167 | 0.2
wheel/blank_finish | finish | turn | turning | T02 | II | turning | 7.7 | 200 | 98.2 | 0.2
spur_groove/finish | finish | groove | grooving | T08 | II | turning | 5.5 | 120 | 108.5 | 0.15
bore/finish | finish | turn | boring | T03 | II | turning | 8.8 | 180 | 358 | 0.15
wheel/finish_lower | finish | cut teeth | hobbing | T42 | II | gear-synchronised | 88 | 75 | 2.19 | 2
wheel/finish_upper | finish | cut teeth | hobbing | T41 | II | gear-synchronised | 88 | 75 | 2.19 | 2
wheel/apex_check | measure | check apex | probing | T63 | II | at rest | 6 | - | - | -
spur/finish | finish | cut teeth | power skiving | T45 | II | gear-synchronised | 11.6 | 110 | 87.3 | 0.35
keyway/finish | finish | mill | slotting | T57 | II | milling | 13.1 | - | - | -
wheel/deburr | deburr | deburr | chamfering | T55 | II | milling | 16.4 | 120 | 3183 | 0.1
II/wash | measure | wash | washing | T64 | II | at rest | 4 | - | - | -
wheel/measure | measure | measure | probing | T63 | II | at rest | 24 | - | - | -
part/inspect | measure | inspect | - | - | bench | at rest | 90 | - | - | -
"""

TITLES = """
part/receive: Receive, check stock and hardness
I/clamp: Clamp, lower side up
I/indicate: Indicate the blank
lower_face/rough: Rough turn the lower face
lower_face/finish: Finish turn the lower face
rim/finish: Finish turn the lower rim
lower_bolts/drill: Drill 8 holes 17.5
lower_bolts/tap: Tap 8 threads M20
II/clamp: Turn over, bolt down on risers
II/indicate: Indicate rim and lower face
wheel/blank_rough: Rough turn the tip cylinder of the double-helical gear
bore/rough: Rough bore
gap/rough: Rough the apex groove
wheel/rough_lower: Rough hob the lower half
wheel/rough_upper: Rough hob the upper half
II/soak: Let the part cool to the temperature of the shop
upper_face/finish: Finish turn the upper face
wheel/blank_finish: Finish turn the tip cylinder of the double-helical gear
spur_groove/finish: Turn the run-out groove of the spur gear
bore/finish: Finish bore
wheel/finish_lower: Finish hob the lower half
wheel/finish_upper: Finish hob the upper half
wheel/apex_check: Check the apex at four places
spur/finish: Skive the spur gear
keyway/finish: Slot the keyway
wheel/deburr: Chamfer the tooth ends of the double-helical gear
II/wash: Wash the part
wheel/measure: Measure pitch, profile and helix of both halves
part/inspect: Gear check on an independent instrument
"""


#: Rule, strength, first, second, reason.
ARROWS = """
R12 should | lower_face/rough | lower_face/finish | heat and forces of roughing stay out of the finish
R21 should | lower_face/finish | lower_bolts/drill | a drill starts true on a finished face
R20 must | lower_bolts/drill | lower_bolts/tap | a thread needs its core hole
R12 should | wheel/blank_rough | gap/rough | the groove is cut into the turned cylinder
R6 must | gap/rough | wheel/rough_lower | the hob runs out into the apex groove
R6 must | gap/rough | wheel/rough_upper | the hob runs out into the apex groove
R12 should | bore/rough | bore/finish | heat and forces of roughing stay out of the finish
R19 should | wheel/rough_lower | II/soak | the part is warm after hobbing
R19 should | wheel/rough_upper | II/soak | the part is warm after hobbing
R12 must | II/soak | bore/finish | a close bore is finished cold
R12 should | II/soak | wheel/blank_finish | a close cylinder is finished cold
R1 must | wheel/blank_finish | wheel/finish_lower | tooth depth refers to the tip cylinder
R1 must | wheel/blank_finish | wheel/finish_upper | tooth depth refers to the tip cylinder
R2 must | bore/finish | wheel/finish_lower | the bore is datum A of the teeth
R2 must | bore/finish | wheel/finish_upper | the bore is datum A of the teeth
R10 should | wheel/finish_lower | wheel/finish_upper | the lower half comes first, at the same temperature
R11 must | wheel/finish_lower | wheel/apex_check | the apex can only be seen when both halves are finished
R11 must | wheel/finish_upper | wheel/apex_check | the apex can only be seen when both halves are finished
R7 must | spur_groove/finish | spur/finish | the cutter runs out into the groove
R2 must | bore/finish | spur/finish | the bore is datum A of the teeth
R28 should | bore/finish | keyway/finish | a keyway interrupts the bore
R27 must | wheel/apex_check | keyway/finish | the keyway is timed to the teeth
R33 must | wheel/finish_upper | wheel/deburr | burrs stand on cut teeth
R36 must | wheel/deburr | II/wash | chips falsify the measurement
R36 must | II/wash | wheel/measure | chips falsify the measurement
R37 must | wheel/measure | part/inspect | the last check sees the part as it leaves
"""
