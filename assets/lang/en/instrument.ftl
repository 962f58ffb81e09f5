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

# What happens to instruments
meter-fuse-gone = The multimeter shows overload and goes blank: on millivolts across a source its fuse has gone. A spare is in the van.
tester-dead-on-proving-unit = The two-pole tester lights no lamp on the proving unit. What it showed since it was last proved counts for nothing. A spare is in the van.

spare-fetched = The spare for the { $tool } was fetched from the van.

# Why not
refused-same-point = Both leads would sit on the same point.
refused-no-such-point = Nothing can be measured there.
refused-not-placed = The { $tool } is not in place anywhere.
refused-instrument-left = The { $tool } still sits where it was placed from { $place }. Get at it first: a cover or a barrier may lie over it, or it is out of reach from here. 'clear { $word }' takes it away there.
refused-cover-on-box = The cover of { $thing } is on. Take it off first.
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
technique-prove-tool = { $tool } on the proving unit
technique-log = logging clamp round { $thing }
technique-loop = fault loop, { $a } to { $b }
technique-rcd-time = trip time of { $thing }
shown-milliohms = { $value } mΩ
shown-megohms = { $value } MΩ
shown-milliseconds = { $value } ms
shown-blank = nothing: the display is dead
refused-not-at-hand = That is not at hand.
