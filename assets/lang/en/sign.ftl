# What eyes, ears, nose and hand get. Each sign is worded so that it can stand after a thing's name and a colon.

sign-browned = { $level ->
    [1] insulation tinted brown over { $mm } mm
    [2] insulation brown and stiff over { $mm } mm
   *[other] insulation charred over { $mm } mm
}
sign-browned-moulding = { $level ->
    [1] moulding tinted brown
    [2] moulding browned by heat
   *[other] moulding charred
}
sign-blistered = moulding blistered
sign-discoloured = metal tinted by heat
sign-smell-fishy = a smell of fish
sign-smell-hot = a smell of hot insulation
sign-buzz = a buzz at the supply's frequency
sign-warm = { $touch }
sign-glow = it glows
sign-smoke = smoke
sign-lamp-lit = lamp lit
sign-handle-at = { $handle }
sign-insulation-in-clamp = insulation reaches into the clamp
sign-strands-out = { $share } of the strands lie outside the clamp
sign-beside-cage = it lies beside the cage, not in it
sign-two-under-one = two conductors under a clamp for one
sign-cut-strands = { $share } of the strands cut by the screw
sign-burnt-through = burnt through
sign-labours = a low, strained hum, a squeal now and then
sign-belt-dust = dust of a belt below the pulley
sign-blade-blue = a blade and its jaw blue from heat
sign-loose-blade = a blade slides out of its jaw without grip
sign-damp-seal = terminal seal damp, a white deposit round it
sign-marked-element = stamped { $ohms }, { $volts }, { $amps } A
sign-bare-copper = { $mm } mm of bare copper outside the clamp
sign-not-landed = the conductor is out of the clamp
sign-dark-copper = dark copper
sign-print-on-insulation = print on the insulation: { $size } { $metal } { $kind }
size-awg = { $count } AWG
size-mm2 = { $count } mm²
print-cu = CU
print-al = AL
print-thhn = THHN
print-thwn = THWN
print-200c = 200 °C
print-pvc = PVC 70 °C
print-silicone = silicone 180 °C
print-nm-b = NM-B 90 °C
print-cord = cord 105 °C
sign-tag-element = tag of one element: { $ohms }, { $volts }; two such in series make a bank ({ $bank }, { $amps } A at { $volts })
sign-tag-element-illegible = tag of one element: ohms not legible, { $volts }; two such in series make a bank
sign-directory-entry = the directory says { $entry }
sign-rating-on = marked { $amps } A, { $poles ->
    [1] one pole
    [2] two poles
   *[other] { $poles } poles
}
sign-marking = printed on it: { $text }
sign-torque-label = torque on the label: { $torque }
sign-torque-table = by the table for this screw and size: { $torque }
sign-screw-head = screw: { $kind }, { $size }
head-nut = hexagon nut
head-socket = hexagon socket
head-wide-square = wide slot with a square recess
head-narrow-square = narrow slot with a square recess
head-pozidriv = narrow slot with a Pozidriv cross
head-phillips = narrow slot with a Phillips cross
head-wide = wide slot
head-narrow = narrow slot
sign-strip-gauge = stripping length on the device: { $mm } mm
sign-pasted-tails = the service's aluminium tails sit under grey paste, as they should
sign-cracked = the moulding is cracked at a screw
sign-lock-kit = a bracket that takes a padlock
sign-open-knockout = a knockout is out, and nothing closes the hole
sign-screws-missing = { $count ->
    [one] a cover screw is missing
   *[other] { $count } cover screws are missing
}
sign-jaw-blue = its jaw is blue from heat
sign-stab-pitted = the stab of space { $space } is pitted, its plating gone
sign-rocks = it rocks in its seat
sign-pitted-tips = contacts pitted and rough
sign-lamp-blinks = the lamp goes out and comes back
sign-stuffy = hot, still air
sign-vent-covered = something stands before the vent
sign-open-space = space { $space } stands open
sign-nameplate = nameplate: { $text }

touch-cool = no warmth felt
touch-warm = warm, comfortable to hold
touch-hot = hot, the hand wants away
touch-too-hot = too hot to hold
handle-on = handle at on
handle-off = handle at off
handle-tripped = handle in the middle, tripped
plug-in = plugged in
plug-out = plug out, blades in sight
not-legible = not legible
mode-off = off
mode-off-reached = off by itself, the highest temperature of the chamber reached
mode-firing = on its program
mode-full = full power

# How a sign is met.
noticed-sign = { $thing }: { $sign }.
noticed-clunk = A clunk from { $thing }.
noticed-lamp-out = The lamp of { $thing } goes out.
stays-live = { $thing }: off is what comes behind it. What feeds it stays live: { $names }.
noticed-arc = A snap and a blue flash at { $thing } as it opens.
noticed-others-lock = On { $thing } hangs a padlock that is not yours, with a notice: "People at work, do not switch on. { $whose }."
noticed-lamp-dark = The lamp of { $thing } is dark.
noticed-contactor-in = { $thing }: the contactor clicks in.
noticed-contactor-out = { $thing }: the contactor drops out.
saw-nothing = { $thing }: nothing out of the ordinary from here.
saw-nothing-close = { $thing }: looked at closely, nothing out of the ordinary.
saw-controller = { $thing } shows: { $mode }, output { $output }, chamber { $chamber }, { $count } operations counted.
saw-chamber-hot = { $thing } sits in the chamber, and that is too hot to open.
saw-wet-floor = { $thing }: the floor is wet.
saw-wet-floor-matted = { $thing }: the floor is wet, and the mat lies on it.
heard-nothing = { $thing }: nothing to be heard.
felt-burn = A burn from { $thing }. Cold water, { $takes }. Feel with the back of the hand, from a distance first.

refused-nothing-to-feel = { $thing } has no surface to lay a hand on.
refused-feel-gloves = Through the gloves nothing is felt.
