# Going, asking, agreeing, telling, writing down, declaring, ending.

refused-no-place = { $thing } is not a place to stand at.
refused-there-already = You are at { $thing } already.
refused-agreed = That is agreed already.
refused-told = The owner has been told that.
refused-note-empty = A note needs words.
refused-note-long = A note has at most { $most } characters.
refused-frozen = Work that changes the evidence has begun. The declaration stands as it was made.
refused-frozen-undeclared = Work that changes the evidence has begun, and nothing was declared before it. It is too late to declare now.
declaration-stands = From here on the declaration stands as it was made: this work changes the evidence.
declaration-none-stands = From here on nothing can be declared any more: this work changes the evidence, and nothing was declared before it.

# What can be asked.
topic-since = when it began
topic-when = when it happens
topic-work = what work was done lately
topic-senses = what was smelt, heard or felt
topic-others = what else hangs on the board
topic-ware = what is in it

# The owner speaks.
answer = Asked { $topic }. The owner: “{ $words }”
answer-late = Nobody had asked the owner { $topic }. Now: “{ $words }”
answer-ware-mugs = Forty glazed mugs for the market. They wait in it for the next firing, the program does them. Full tilt they would be lost.
answer-none = I could not say.
history-trips = { $count ->
    [0] It has not tripped in the last few firings, not that I have seen.
    [one] Once in the last few firings, I think.
   *[other] { $count } times in the last few firings.
}
history-when = Late, when it stays on all the time. After some { $minutes } minutes of that.
history-when-never = I have not seen it go off by itself.
history-when-end = Towards the end of the firing, somebody said. I was not there.
history-new-elements = New elements last month. A member had a set and put them in.
history-no-work = Nothing was done on it that I know of.
history-work-long-ago = Somebody changed an element once, I think. That was last year or before.
history-smell-fishy = There is something like fish by the grey box in the store. Only when the kiln works hard.
history-smell-hot = A hot smell by the grey box in the store, late in a firing.
history-smell-none = Nothing that I noticed.
history-smell-firing = It smells when the wax burns off. Whether that was in the store as well I could not swear.
history-smell-fishy-cabin = Something like fish by the board in the plant room, when it has been on for a while.
history-smell-hot-cabin = A hot smell by the board in the plant room, of an evening.
history-smell-beside-cabin = A smell of hot plastic down by the heater. Not the wood, I know that one.
history-smell-firing-cabin = It smells of hot wood and stones, as it always does. More than that I could not swear.
history-smell-fishy-laundry = Something like fish by the panel in the back room, on a busy day.
history-smell-hot-laundry = A hot smell by the panel in the back room, on a busy day.
history-smell-beside-laundry = Hot plastic, behind the machine. I thought it was the lint.
history-smell-firing-laundry = It smells of warm lint, all day long. More than that I could not swear.

# Agreed.
agreed-outage = Agreed with the owner: the whole board may go off. The people in the house are warned, what else hangs on it is brought to a stop: { $names }. An old main may not go on again; the owner knows.
agreed-outage-later = The owner: "Not now. { $names } are in use. From { $from } you can have the whole board off." Until then its branch breakers, the switch or the plug beside the appliance are yours. An old main may not go on again; the owner knows.
agreed-lock = The owner knows of no lock.
others-lock-off = { $whose } comes, looks whether all is as it was left, and takes the lock off { $thing }: nobody else may.
lock-of-0 = The caretaker
lock-of-1 = The man who mends the drive belts
lock-of-2 = The painter of the back wall
agreed-outage-alone = Agreed with the owner: the whole board may go off. The people in the house are warned. An old main may not go on again; the owner knows.
one-and-more = { $a }, { $b }
agreed-price = Agreed with the owner: a limit for the price. Above it you ask first.

# Told.
told-cause = Told the owner: the cause, why it happened, and what was done.
told-proof = Told the owner: what is proved so far, and that it is not yet proved for a long run: that waits for the next one.
told-sisters = Told the owner: the other terminations were checked and are sound.
told-elements = Told the owner: the age of the elements, and what to expect of them.
told-resetting = Told the owner: a breaker that has tripped is not reset twice. Whom to call is written at the board.
told-old-parts = The old parts were shown and handed back to the owner.
told-quote = Told the owner what has still to be done and why, and left a quote in writing.

photo-taken = Photo of { $thing }.

# The declaration.
suspect-termination = a loose or badly made termination
suspect-contact = a worn contact
suspect-stab = a weak seat of the breaker, jaw or stab
suspect-overdraw = a load that draws too much
suspect-worn-load = a worn load that draws too little
suspect-conductor = a conductor too small for its load
suspect-surroundings = heat from outside: the room, or a neighbour
suspect-healthy = nothing wrong with the equipment
no-place = no place of its own
declared = Declared: { $suspect }, { $thing }, { $percent } sure.
declared-again = Declared anew: { $suspect }, { $thing }, { $percent } sure.
declared-undecided = Declared: not decided, opening up.
declared-with = Declared beside it: { $suspect }, { $thing }.
declared-damaged = Declared damaged by the heat: { $names }.

# Appointments and the rest of what an owner is told.
agreed-return = Agreed with the owner: a day to come again. What a short run cannot show is looked at then, at a full run.
told-sisters-open = Told the owner: which terminations nobody has looked at yet. They wait for the next visit.
told-all-good = Told the owner: all good, it will hold.
told-ventilation = Told the owner: the vents stay free and the room below 35 °C. Each breaker in it trips earlier the warmer it is.
told-clearance = Told the owner: what has to stay clear of the appliance, and that nothing is stored on it or hung over it.
told-directory = Told the owner: what the board's directory does not say, or says wrongly.
told-permit = Told the owner: what was altered asks for a permit or a notice to the authority, and who files it.
supervisor-called = Called the supervisor and said what was found: “Do what you can vouch for. What you cannot, leave off, locked and written up; I order what is missing and we come again.”
refused-supervisor-called = The supervisor knows already.

# The job sheet and the certificate.
sheet-found = As found: { $how }: { $shown }.
sheet-found-at = As found: { $how }: { $shown }, at { $amps }.
sheet-found-no-load = As found: { $how }: { $shown }. Load not taken.
sheet-left = As left: { $how }: { $shown }.
sheet-left-at = As left: { $how }: { $shown }, at { $amps }.
sheet-left-no-load = As left: { $how }: { $shown }. Load not taken.
sheet-part = Fitted at { $thing }: { $stock }.
sheet-torque = { $thing }: tightened at { $torque }.
refused-sheet-entered = That stands on the sheet already.
refused-sheet-no-value = That gives no value for the sheet.
refused-sheet-not-found = There is no such reading in the notebook from before the work there.
refused-sheet-not-left = There is no such reading in the notebook since the last work.
refused-sheet-no-part = Nothing was fitted at { $thing }.
refused-sheet-no-torque = No setting was used at { $thing }.
certificate-head = Certificate of verification of what was altered:
certificate-line = { $what }: { $shown }.
certificate-fails = { $what }: { $shown }. It does not pass.
certificate-blank = { $what }: not tested for { $names }. Wanted: { $how }.
certificate-blank-plain = { $what }: not tested. Wanted: { $how }.
certificate-wants-continuity = dead, resistance from the appliance's earthed metal or protective terminal to the earth bar of the open board
certificate-wants-insulation = dead, each leg to earth
certificate-wants-polarity = live, each leg to neutral or earth
certificate-wants-loop = live, a leg to earth
certificate-wants-trip-time = live, the device at its rated residual current
certificate-continuity = continuity of the protective conductor
certificate-insulation = insulation resistance
certificate-polarity = polarity
certificate-loop = impedance of the fault loop
certificate-polarity-right = correct
certificate-loop-value = { $value } Ω, at most { $most } Ω
certificate-trip-time = trip time at the rated residual current
refused-certificate-not-asked = No certificate is asked for here. The job sheet is the record.
refused-certificate-nothing = Nothing was altered: there is nothing to certify.
refused-certificate-stands = The certificate is written, with every line filled.
