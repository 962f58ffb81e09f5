# The game in text.

caution-1 = This is a game. It teaches a way of thinking and is no licence, no instruction for a real job and no stand-in for one.
caution-2 = Work on electrical equipment can kill. Local codes, the maker's instructions and licensed practice come before anything shown here.
caution-3 = Real work: isolate, lock, tag, prove dead at the place of work, and never alone.

terminal-choose = Say a number or a name; 'hand in' and a number hands an attempt in as it stands; 'quit' leaves.
terminal-choice-waiting = { $number }  Go on with { $scenario }, begun { $started } UTC, { $spent } in.
terminal-choice-scenario = { $number }  { $scenario }: { $title }
terminal-no-such-choice = '{ $found }' is not in the list.
terminal-none-waiting = No attempt is waiting to be gone on with.
terminal-unreadable = { $file } cannot be read and was left alone: { $why }
terminal-unsound = The command 'check' shows each problem in its place.

terminal-job = Job: { $title }
terminal-complaint = The owner: “{ $words }”
terminal-help-hint = Time passes only by acting. '?' tells what can be said, '? amps' more of one word, '? q2' what can be done with a thing.
terminal-kept = Kept. Go on with: faultwright terminal --resume { $file }
terminal-left = Left. Nothing was kept.
terminal-record = Record: { $file }

terminal-at = At { $place }.
terminal-thing = { $name }: { $state }.
terminal-cover-on = cover on
terminal-cover-off = cover off
terminal-cover-off-shielded = cover off, barrier in
terminal-handle-on = handle on
terminal-handle-off = handle off
terminal-handle-tripped = handle in the middle, tripped
terminal-controller-off = off, output { $output }
terminal-controller-firing = firing, output { $output }
terminal-controller-full = full power, output { $output }
terminal-locked = your lock is on it
terminal-tagged = your notice hangs on it
terminal-loose = conductor out
terminal-out = taken out
terminal-fitted = { $stock } fitted
terminal-parts = In reach: { $names }.
terminal-terminations = Terminations: { $names }.
terminal-conductors = Conductors: { $names }.
terminal-places = Elsewhere: { $names }.
terminal-worn = Worn: { $names }.
terminal-shows = { $how }: { $shown } now.
terminal-shows-nothing = { $how }: nothing to be read from here yet.
terminal-time-passed = Time has passed.

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
terminal-help-more = Also: look around; notebook; ? and an act or a thing; give up (hand in as it stands); quit (keep and leave).
terminal-help-verb = Say: { $form }
terminal-help-unknown = There is no act and no thing '{ $found }'. The nearest is '{ $nearest }'.
terminal-no-offers = Nothing can be done with { $name } by itself.
terminal-offer = { $line } ({ $cost }): { $what }
terminal-offer-refused = { $line }: not now. { $why }

# What is said to a line that is not understood.
grammar-empty = Nothing was said.
grammar-verb = '{ $found }' is no act. The nearest is '{ $nearest }'.
grammar-form = Say: { $form }
grammar-thing = There is no '{ $found }' here. The nearest name is '{ $nearest }'.
grammar-kind = '{ $found }' does not fit there. What fits: { $accepted }.
grammar-number = '{ $found }' does not fit there. What fits: { $accepted }.
