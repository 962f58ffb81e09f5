# Instruments: names, how a reading is taken, what a display shows, why one cannot be used.

tool-clamp = clamp meter
tool-meter = multimeter
tool-tester = two-pole tester
tool-pen = voltage pen
tool-thermometer = contact thermometer
tool-torque-driver = torque screwdriver

# Test points and spots, as parts of other messages
point-screw = screw of { $thing }
point-wire = conductor at { $thing } (pin through the insulation)
point-jaw = jaw behind { $thing }
point-bus = bus bar { $leg }
point-line = line lug { $leg } of the main
point-neutral = neutral bar
point-earth = earthed metal of { $thing }
spot-metal = metal of { $thing }
spot-insulation = insulation at { $thing }
spot-face = face of { $thing }
spot-case = outside of { $thing }
spot-air-in = air in { $thing }
spot-air-at = air at { $thing }
spot-bus = bus bar { $leg }
spot-run = outside of { $thing }

# How a reading was taken
technique-amps-core = clamp round { $thing }
technique-amps-run = clamp round the whole of { $thing }
technique-volts = volts, { $a } to { $b }
technique-millivolts = millivolts, { $a } to { $b }
technique-test = two-pole tester, { $a } to { $b }
technique-pen = pen at { $point }
technique-temperature = temperature, { $spot }
technique-prove = two-pole tester on the proving unit
technique-torque-found = torque as found, { $thing }

# What a display shows
shown-value = { $value }
shown-lamp = lamp { $value } V
shown-no-lamp = no lamp
shown-beep = beeps
shown-quiet = quiet
shown-over = over range
shown-max = MAX { $value }
shown-low-impedance = { $value } at low impedance

# What happens to instruments
meter-fuse-gone = The multimeter shows overload and goes blank: on millivolts across a source the fuse of its millivolt input has gone. A spare is in the van.
milliohmmeter-fuse-gone = The milliohmmeter clicks and goes blank: there was voltage between its clips, and the fuse of its test current has gone. A spare is in the case.
fetched = The { $tool } is here.
meter-reads-low = The { $tool } shows { $volts } on the proving unit: a lead is broken, or its battery is weak. What it showed since it was last shown good counts for nothing. A spare is in the van.
meter-fuse-open = The { $tool } reads the proving unit, but on ohms its fused jack is open: the fuse of the millivolt input is blown, and millivolts read nothing whatever stands there. A spare is in the van.
leads-open = The leads of the { $tool } read open when they touch each other: one is broken. A spare is in the van.
display-dead = The display of the { $tool } stays dead: its battery is flat. A spare is in the van.
log-read = Log of { $thing } from { $from } to { $until }: { $most } at most, { $amps } on average.
log-fell = The load that was there fell to nothing at { $when } and stayed away for minutes.
log-fell-more = It fell to nothing { $count } times more.
came-back = Back after { $time }. What the owner did meanwhile is told by what you find.
tester-dead-on-proving-unit = The two-pole tester lights no lamp on the proving unit. What it showed since it was last proved counts for nothing. A spare is in the van.

instrument-closed-in = The { $tool } stays behind the cover of { $box }, where it was placed.
max-still-holds = The clamp meter is on MAX and still holds { $amps }, since { $since }. 'set max on' begins anew.

spare-fetched = The spare for the { $tool } was fetched from the van.

# Why not
refused-jaw-under-breaker = The jaws of { $thing } sit on the stab under it: no probe gets there while it is in.
refused-in-the-van = The { $tool } is in the van already, or at hand.
refused-fetched = The { $tool } is here.
refused-not-fetched = There is no { $tool } in the van. 'fetch { $word }' gets one: 20 min.
refused-nothing-to-prove-on = There is nothing in the van to show the { $tool } good on.
refused-same-point = Both leads would sit on the same point.
refused-no-such-point = Nothing can be measured there.
refused-not-placed = The { $tool } is not in place anywhere.
refused-instrument-left = The { $tool } still sits where it was placed from { $place }: { $how }. Get at it first: a cover or a barrier may lie over it, or it is out of reach from here.
refused-cover-on-box = The cover of { $thing } is on. Take it off first.
refused-no-rcd = { $thing } has no terminals behind it.
refused-behind-barrier = The barrier in { $thing } covers that.

tool-infrared = infrared thermometer
tool-camera = thermal camera
tool-milliohmmeter = milliohmmeter
tool-insulation-tester = insulation tester
tool-logger = logging clamp
tool-loop-tester = loop and RCD tester
tool-torque-wrench = torque wrench
technique-infrared = infrared at { $spot } from { $mm } mm
technique-camera = camera at { $thing }
technique-ohms = ohms, { $a } to { $b }
technique-milliohms = milliohms, { $a } to { $b }
technique-insulation = insulation, { $a } to { $b }
technique-prove-tool = { $tool } shown good: proving unit, leads together
technique-log = logging clamp round { $thing }
technique-loop = fault loop, { $a } to { $b }
technique-rcd-time = trip time of { $thing } at { $times } × rated
shown-loop = { $value } Ω
shown-no-supply = no supply to test with: { $value }
shown-live = live, no test: { $value }
armature-pushed = { $thing } stands open: its armature is pushed in by hand for this reading.
loop-no-trip = A residual current device stands ahead: the loop is measured in the no-trip range, with 12 mA.
shown-milliohms = { $value } mΩ
shown-megohms = { $value } MΩ
shown-milliseconds = { $value } ms
shown-blank = nothing: the display stays blank

# Infrared thermometer and thermal camera
refused-infrared-air = An infrared thermometer reads surfaces, not air.
refused-infrared-distance = It is held { $from } to { $to } mm away.
refused-infrared-within = { $thing } lies inside the chamber: nothing is read through its shell.
refused-camera-nothing = Nothing of { $thing } can be seen from here.
refused-patch-air = Tape sticks to surfaces, not to air.
refused-patched = Tape is on it already.
camera-shows = In the picture: { $spot } { $value }. Like it beside: { $beside } { $shown }.
camera-shows-alone = In the picture: { $spot } { $value }.
