# Hands: clothing, covers, handles, locks, dead work. Refusals, results and what is learnt by the work.

# Reach
refused-elsewhere = { $thing } is out of reach from here. Go to { $place } first.
refused-behind-cover = { $thing } is behind the cover of { $box }. Take the cover off first.

# Clothing
refused-worn = You are wearing that already.
refused-not-worn = You are not wearing that.

# Covers and barriers
refused-no-cover = { $thing } has no cover to take off or put on.
refused-cover-off = The cover of { $thing } is off already.
refused-cover-on = The cover of { $thing } is on already.
refused-shield-covered = The cover of { $thing } is on: a barrier is laid or taken out with the cover off.
refused-shielded = A barrier lies in { $thing } already.
refused-not-shielded = No barrier lies in { $thing }.

# Handles, locks, notices
refused-no-handle = { $thing } has no handle to work.
refused-part-out = { $thing } is taken out.
refused-locked = Your own lock hangs on { $thing }. Take it off before switching on.
refused-no-controller = There is no controller here.
refused-takes-no-lock = { $thing } has no place for a lock.
refused-own-lock-on = Your lock hangs on { $thing } already.
refused-lock-not-off = A lock goes on { $thing } only when its handle has been seen to stand at off.
refused-others-lock = Somebody else's lock hangs on { $thing }. Whoever put it there may have hands in. Find out whose it is.
refused-cut-lock = The lock on { $thing } is not yours. It is not cut and not picked: only who put it on takes it off. Find out whose it is.
refused-no-others-lock = No lock but your own was seen here.
refused-no-directory = { $thing } has no directory.
refused-not-in-directory = { $thing } has no line in a directory.
refused-no-such-entry = The directory has no such line as { $entry }. On this board there are: { $names }.
label-written = In the directory { $thing } now says: { $entry }.
main-stays-open = The handle of { $thing } does not latch. It falls back whatever the hand does; it was not worked for many years. Everything on the board stays dead until a new one is in, and none is in the van.
refused-no-own-lock = No lock of yours hangs on { $thing }.
refused-tagged = Your notice hangs on { $thing } already.
refused-not-tagged = No notice of yours hangs on { $thing }.
handle-as-it-was = The handle of { $thing } stands as it stood before.
lock-does-not-go-on = The lock does not go on: the handle of { $thing } no longer stands at off.
owner-finds-lock-before = The owner calls: "I wanted { $thing } back on, but nothing will come on: there is a lock on { $handle }. Is that yours? When can I have it?"
owner-finds-no-fuses = The owner calls: "I wanted { $thing } back on, but its fuses are gone. Have you got them? When can I have it?"
owner-finds-lock = The owner calls: "I wanted { $thing } back on, but there is a lock on it. Is that yours? When can I have it?"

# Terminations
refused-no-termination = { $thing } is no termination with a conductor.
refused-conductor-out = The conductor of { $thing } is out of its clamp.
refused-conductor-in = The conductor of { $thing } is in its clamp. Loosen it first.
refused-big-lug = The lug of { $thing } is beyond every torque tool of this van. Leave it as it is.
refused-no-slack =
    The conductor of { $thing } is too short for that: { $left } mm can be spared before it no longer reaches. Cut less, or join on a length with a listed splice.
refused-torque-range = The torque tool is set from { $from } to { $to }. It cannot be set to { $set }.
refused-torque-tools = The torque screwdriver and the wrench together are set from { $from } to { $to }. Neither can be set to { $set }.
bit-picked = In the torque tool now: { $tool }.
bit-slotted = narrow blade
bit-slotted-wide = wide blade
bit-phillips = Phillips bit
bit-pozidriv = Pozidriv bit
bit-hex = hexagon bit
bit-square = square bit
refused-lock-kit-there = { $thing } has its bracket.
refused-no-knockout = No knockout of { $thing } is open.
refused-no-screw-missing = No screw is missing from the cover of { $thing }.
lock-kit-off = With { $thing } its bracket for a padlock comes off. The van has another.
lock-kit-on = The bracket sits over the handle of { $thing }: it can be locked off again.
knockout-closed = The open knockout of { $thing } has a seal.
screws-in = The cover of { $thing } has all its screws.
refused-nothing-to-verify = { $thing } has not been tightened with the torque tool since it was last undone: there is no setting to verify.
refused-nothing-to-tape = There is no pinhole to tape at { $thing }.

pull-moves = Pulled at { $thing }: the conductor moves, about { $mm } mm.
pull-holds = Pulled at { $thing }: the conductor holds.
torque-found = The screw of { $thing } moves towards tight at { $nm }.
torque-found-nothing = The screw of { $thing } moves towards tight at { $nm }: that is next to nothing.
torque-found-settled = The screw of { $thing } moves towards tight at { $nm }. Strands settle after tightening: the figure says little about the torque once set.
torque-found-jumps = The bit jumps out of the screw of { $thing } at { $nm }. What the screw has is more than that, and not known.
loosened = { $thing } undone and the conductor out. Copper: { $copper }. Insulation: { $strip }. Clamp: { $clamp }. Length to spare: { $left } mm.
copper-bright = bright
copper-dark = dark
copper-sanded = rubbed bright, pitted below
strip-right = stripped to the gauge
strip-short = stripped too short, its edge pressed by the clamp
strip-long = stripped too long, bare outside the clamp
clamp-sound = plating whole
clamp-burnt = plating gone, blue from heat
cut-back = { $mm } mm cut off at { $thing }. The cut end: { $copper }. Length to spare: { $left } mm.
stripped = Stripped at { $thing }: { $mm } mm.
inserted = The conductor of { $thing } is in its clamp, screw not yet tightened.
torque-clicks = { $thing }: the screw turns, then the tool clicks.
wrist-tight = { $thing }: the screw is tight by feel. What it got is not known.
verify-moves = { $thing }: the screw moves a little further, then the tool clicks.
screw-stays = { $thing }: the screw does not move.
refused-comb = { $thing } holds a tooth of the comb bar. A comb is neither cut back nor stripped nor sanded; a new breaker brings its length of comb.
thread-strips = { $thing }: the screw turns on and on. The thread has stripped.
strands-give = { $thing }: something crunches under the screw. Strands have given way.
bit-jumps-out = { $thing }: the bit jumps out of the screw before the tool clicks. What the screw got is not known.
case-cracks = { $thing }: a sharp crack. The moulding beside the screw has a fissure.
pasted = The aluminium at { $thing } is brushed bright under joint paste.
paste-needless = The conductor at { $thing } is copper: it takes no harm from joint paste and needs none.

# Parts
refused-no-part = { $thing } is not a part that can be taken out or fitted.
refused-not-stocked = There is no { $thing } in the van; one takes two days to come. Leave the old one in.
refused-part-locked = Your own lock hangs on { $thing }. Take it off before the part comes out.
refused-others-circuit = { $thing } feeds a circuit that is not part of this job. Leave it in.
refused-still-wired = { $thing } cannot come out while { $port } holds its conductor. Loosen it first.
refused-old-part-in = The old { $thing } is still in its place. Take it out first.
refused-does-not-fit = { $stock } does not go in the place of { $thing }. What goes in: { $accepted }.
refused-no-such-stock = There is no { $stock } in the van. What goes in the place of { $thing }: { $accepted }.
removed = { $thing } is out.
disconnected = { $thing } is disconnected: its leads are off.
reconnected = { $thing } is connected again.
removed-set = The set of elements ({ $names }) is out.
fitted = { $stock } fitted as { $thing }.
fitted-set = The set of elements ({ $names }) is fitted: { $stock }.
refitted = The old { $thing } is back in its place.
refused-old-stays-out = The old { $thing } does not go in again. Fit one from the van.
refused-old-opened = The old { $thing } was opened: its case is riveted, and what was opened is scrap.
refused-nothing-inside = { $thing } has nothing inside that could be looked at on the bench.
refused-bench-in = { $thing } is in its place. Take it out first.
refused-opened = { $thing } lies open on the bench already.
bench-sound = { $thing } lies open on the bench. Its contacts are even.
saw-welded = { $thing } lies open on the bench. The contacts of one pole hang together; its handle moves without them.
saw-inside = { $thing } lies open on the bench. Its contacts are not even.

# Spaces of the board, vents
refused-space = Space { $space } does not take { $thing }: another breaker sits there, or the bars lie the other way round. Free for it: { $accepted }.
refused-space-own = The spaces from { $space } on are those of { $thing } already.
refused-does-not-reach = The conductor of { $thing } does not reach to space { $space }: it has { $left } mm to spare and { $needed } mm are wanted. Join on a length with a listed splice first.
refused-space-covered = The dead front of { $thing } is on. Take it off first.
refused-space-taken = Space { $space } of { $thing } belongs to { $part }.
refused-space-closed = Space { $space } of { $thing } is closed.
refused-space-marked = Space { $space } of { $thing } is marked already.
moved = The spaces from { $space } on are ready for { $thing }. Those from { $old } on stand open now.
blanked = Space { $space } of { $thing } is closed with a filler plate.
marked = Space { $space } of { $thing } is marked: burnt stab, not to be used.
vented = The vents of { $thing } are clear again.
vent-clear = Nothing stands before the vents of { $thing }.

# Conductors pulled anew
refused-no-run = { $thing } is not a run of conductors that can be pulled anew.
refused-run-covered = { $thing } is pulled with both its ends free: the cover of { $box } is on.
refused-run-landed = { $thing } is pulled with both its ends free: { $port } still holds its conductor.
refused-no-such-wire = There is no wire { $stock } in the van. What there is: { $accepted }.
repulled = { $thing } is pulled anew with { $stock }. Its ends hang free, to be stripped and made.
