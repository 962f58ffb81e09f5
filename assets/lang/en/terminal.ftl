# The game in text.

caution-1 = This is a game. It teaches a way of thinking and is no licence, no instruction for a real job and no stand-in for one.
caution-2 = Work on electrical equipment can kill. Local codes, the maker's instructions and licensed practice come before anything shown here.
caution-3 = Real work: isolate, lock, tag, prove dead at the place of work, and never alone.

terminal-choose = Say a number or a name; 'hand in' and a number hands an attempt in as it stands; '?' says more; 'quit' leaves.
terminal-choose-help-job = Each line below is a job to begin, or an attempt of yours to go on with. Its number or its name begins it, and a fresh cause is drawn each time.
terminal-choose-help-waiting = 'hand in 1' ends the waiting attempt 1 as it stands and writes its record. Jobs are not handed in, only attempts.
terminal-choose-help-command = A job with a certain draw: { $program } terminal NAME --seed NUMBER. The same seed is the same job.
terminal-choice-waiting = { $number }  Go on with { $scenario }, begun { $started } UTC, { $spent } in.
terminal-choice-scenario = { $number }  { $scenario }: { $title }
terminal-no-such-choice = '{ $found }' is not in the list.
terminal-none-waiting = No attempt is waiting to be gone on with.
terminal-unreadable = { $file } cannot be read and was left alone: { $why }
terminal-unsound = The command 'check' shows each problem in its place.

terminal-job = Job: { $title }
terminal-complaint = The owner: “{ $words }”
terminal-help-hint = Time passes only by acting. '?' tells what can be said, '? amps' more of one act, '? q2' what can be done with a thing, '? words' what names mean, '? declare' how to name the cause.
terminal-kept = Kept. Go on with: { $program } terminal --resume { $file }
terminal-left = Left. Nothing was kept.
terminal-record = Record: { $file }

terminal-at = At { $place }.
terminal-thing = { $name }: { $state }.
terminal-box = { $name } ({ $kind }): { $state }.
terminal-cover-on = cover on
terminal-cover-off = cover off
terminal-cover-off-shielded = cover off, barrier in
terminal-stands-on = on
terminal-stands-off = off
terminal-plug-in = plugged in
terminal-plug-out = unplugged
terminal-stands-tripped = in the middle, tripped
terminal-handle = { $name } { $kind }, { $state }
terminal-handle-served = { $name } { $kind } ({ $serves } by the directory), { $state }
terminal-handle-plain = { $name } { $kind }
terminal-handle-served-plain = { $name } { $kind } ({ $serves } by the directory)
terminal-controller-off = off, output { $output }
terminal-controller-firing = on its program, output { $output }
terminal-controller-full = full power, output { $output }
terminal-locked = your lock is on it
terminal-tagged = your notice hangs on it
terminal-loose = conductor out
terminal-out = taken out
terminal-fitted = { $stock } fitted
terminal-space-open = { $name }: space { $space } stands open.
terminal-space-open-marked = { $name }: space { $space } stands open, marked as not to be used.
terminal-space-closed = { $name }: space { $space } closed with a filler plate.
terminal-space-closed-marked = { $name }: space { $space } closed with a filler plate, marked as not to be used.
terminal-moved = { $name }: its spaces are those from { $space } on now.
terminal-handles = Handles and keys, to be worked with covers on: { $names }.
terminal-parts = In reach: { $names }.
terminal-terminations = Terminations (screws and lugs): { $names }.
terminal-conductors = Conductors: { $names }.
terminal-places = Elsewhere: { $names }.
terminal-worn = Worn: { $names }.
terminal-shows = { $how }: { $shown } now.
terminal-shows-nothing = { $how }: nothing to be read from here yet.
terminal-time-passed = { $time } passed.
terminal-clock-day = day { $day }, { $time }
terminal-nothing-declared = '{ $line }' changes the evidence, and nothing is declared yet. After it nothing can be declared. '? declare' tells how; 'declare undecided' is honest too.
terminal-say-again = Not done yet. Say it again to do it.

terminal-reading = { $how }: { $shown }.
terminal-note = Note: { $words }
terminal-notebook-empty = The notebook is empty.
terminal-done = Done: { $line }.
terminal-refused = Not now: { $line }. { $why }

terminal-end-handed-over = Handed over.
terminal-end-made-safe = Made safe and left.
terminal-end-hurt = You are hurt. The job ends here.

terminal-help = A line holds one act, or several parted by ' ; '. What follows # is a remark.
terminal-help-verbs = Acts: { $verbs }.
terminal-help-more = Also: look around; notebook; ? and an act or a thing; ? words (what PLACE, THING, POINT and the like stand for); ? declare (how to name the cause); give up (hand in as it stands); quit (keep and leave).
terminal-names = { $name }: { $kind }.
terminal-words-place = PLACE: { $names }.
terminal-words-box = BOX: { $names }. Names in small letters are things; 'look around' lists those in sight with their kinds.
terminal-words-termination = TERMINATION: a screw or lug with its conductor, by its part and leg: q2.a is leg A of q2, tb1.b_in the incoming side of leg B at tb1.
terminal-words-conductor = CONDUCTOR: feed.a is one conductor; feed alone is the whole cable, go and return together.
terminal-words-point = POINT: a termination (q2.a is its screw); q2.a.wire, its conductor by a pin through the insulation; earth.board, earthed metal of a box; bus.a and bus.b, the bus bars; line.a and line.b, the supply side of the main; neutral.
terminal-words-spot = SPOT: a termination (its metal); q2.a.insulation, some centimetres up its conductor; a part (its face); a box (its outside); a cable; air.board, air.store; bus.a.
terminal-words-space = SPACE: a space of a board by its number: odd ones left, even ones right, downwards. A two-pole breaker has two, one under the other: 2 and 4, named by the first.
terminal-words-gear = GEAR: gloves, visor, ring. INSTRUMENT: clamp, meter, tester, pen, thermometer, torque-driver.
terminal-words-time = TIME: 90s, 10min, 2h; a number alone is minutes; at most 24h.
terminal-declare-form = Say: declare KIND THING PERCENT with KIND THING damaged THING, THING
terminal-declare-kind = KIND { $kind }: { $what }
terminal-declare-parts = THING is where it sits, and may be left out. PERCENT is how sure you are, 10 to 99. 'with' adds a second cause, as often as there are more. 'damaged' names what the heat has spoilt. Both may be left out.
terminal-declare-example = Example of the form, no hint: declare termination q2.a 80 with overdraw e1 damaged q2
terminal-declare-undecided = Or: declare undecided, when you open up without having decided.
terminal-declare-until = It can be declared anew until the first work that changes the evidence: cut, sand, splice, tighten, torque, fit, repull, vent. Putting the old part back is none.
terminal-help-verb = Say: { $form }
terminal-help-unknown = There is no act and no thing '{ $found }'. The nearest is '{ $nearest }'.
terminal-no-offers = Nothing can be done with { $name } by itself.
terminal-offer = { $line } ({ $cost }): { $what }
terminal-offer-refused = { $line }: not now. { $why }
terminal-not-from-here = Not from here: { $why }

# What is said to a line that is not understood.
grammar-empty = Nothing was said.
grammar-verb = '{ $found }' is no act. The nearest is '{ $nearest }'.
grammar-form = Say: { $form }
grammar-thing = There is no '{ $found }' here. The nearest name is '{ $nearest }'.
grammar-kind = '{ $found }' does not fit there. What fits: { $accepted }.
grammar-number = '{ $found }' does not fit there. What fits: { $accepted }.
