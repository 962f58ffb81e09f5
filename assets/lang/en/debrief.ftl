# What is told after an attempt.

# Parts of the score
mark-root = Root cause
mark-support = Support by evidence
mark-damage = Damage named
mark-confidence = Confidence
mark-exposure = Exposure and conduct
mark-repair = Repair
mark-proof = Proof
mark-hand-over = Hand-over and record

# What characterises the attempt
label-hurt = You were hurt. The job ended there.
label-made-safe = Made safe honestly, for a return visit: a full ending.
label-unsearched = Left without a search: hardly anything of the circuit was tried.
label-evaded = Put off: the cause was known and everything for the repair lay in the van.
label-left-off = Left off, not made safe: something of held off, shown dead, examined, written down and told is missing.
label-unfinished = Handed in unfinished.
label-gate = { $gates ->
    [one] One gate: no points make up for it.
   *[other] { $gates } gates: no points make up for them.
}
label-not-named = No cause was named before the repair.
label-undecided = Left undecided, honestly.
label-evaded-unknown = Put off: everything for the repair lay in the van, and the cause was not found.
label-wrong-cause = The cause named was not the cause.
label-premature = Named before anything was measured or felt at a conductor.
label-support-open = What the evidence supports is not judged yet: 18 of the 100 points are open.
label-resumed = { $times ->
    [one] Resumed once.
   *[other] Resumed { $times } times.
}

# What was so
truth-healthy = Nothing was wrong with the equipment.
truth-joint = { $kind } at { $thing }: { $watts } of heat in it at { $amps }.
truth-row = { $kind }: each carries { $amps }.
truth-motor = { $kind }: { $thing } draws { $amps }.
truth-plain = { $kind }: { $thing }.
truth-cause = { $kind }: the circuit draws { $amps }.
truth-conductor = { $thing } was too small for its circuit: { $mm2 } mm².
truth-damaged-stab = The stab behind space { $space } of { $thing } was burnt.
truth-turned-unseen = Turned further before anybody had felt or read them, so that how they were left by whoever made them is no longer knowable: { $names }.
truth-undone-unseen = Undone before anybody had felt or read them; what they were like as found is lost: { $names }.
truth-damaged-part = { $thing } was damaged by the heat.
truth-damaged-conductor = The conductor's end at { $thing } was dark and annealed.
truth-was = true { $value }
picture-difference = { $spot } { $value } above { $beside }: { $kind } by the table for like parts at like load
thermal-none = no difference
thermal-possible = possible deficiency
thermal-probable = probable deficiency
thermal-major = major, repair at once
truth-was-bare-metal = true { $value }; bare metal mirrors what is round it. Tape on it, or the insulation beside it, tells its temperature
truth-was-wider-spot = true { $value }; the measuring spot was larger than what was meant and took in what is round it
cause-loose-lug = A loose, oxidised screw clamp
cause-tight-but-bad = A tight screw on a bad joint
cause-loose-stud = A loose stud nut
cause-worn-contact = A worn contact
cause-weak-stab = A weak seat, jaw and stab
cause-undersized-conductor = A conductor too small
cause-failing-neighbour = A neighbour's failing lug
cause-intermittent-joint = A joint that comes and goes
cause-wrong-elements = Elements for another voltage
cause-worn-elements = Worn elements
cause-blade-spread = A spread jaw in the receptacle, a burnt blade
cause-comb-beside = A comb tooth beside its cage
cause-loose-neutral = A neutral loose or out of its clamp
cause-wrong-insulation = Insulation that cannot stand the heat of its place
cause-open-element = An element burnt through
cause-leaky-element = An element that has taken up damp
cause-touching-element = An element that touches its earthed can
cause-shorted-element = An element with turns that touch
cause-dragging-motor = A motor whose load drags
cause-hot-row = A row of loaded neighbours that warm each other
cause-healthy = Nothing wrong

# What happened next
next-back = In { $back } of { $of } futures it is back within { $years ->
    [one] a year
   *[other] { $years } years
}: first { $came } at { $thing }.
next-still-there = It never went away: in { $back } of { $of } futures { $came } at { $thing } from the first week.
next-later = Within { $years } years it is back in { $back } of { $of }.
next-worst = In { $count } of them it comes to this, unless somebody looks before: { $came }.
next-none = In none of { $of } futures does anything heat within { $years } years.
next-not-working = The appliance does not work as it was left: with everything on and full heat asked for it draws no current.
next-part-working = The appliance does not do all its work as it was left: with everything on and full heat asked for { $thing } carries { $share } of its right current.
next-dead = As left the circuit carries no current: nothing ages, and nothing works.
next-made-safe = Off and locked off, nothing ages. It waits for the return visit as it was left.
next-neutral-open = In all of them, from the first hour: with the neutral of { $thing } out, what hangs on it stands at a voltage that nobody chose. Unequal loads burn, and the loose end is live.
next-cause-stays = { $kind }: nothing was done about it, and the complaint stays as it was.
next-not-vouched = Whatever the count says, { $things } cannot be vouched for: made by feel or off its value, nobody knows what holds it (NEC 110.14(D)).
next-contacts = Upkeep, not a fault: the contacts of { $thing } reach their { $life } operations in about { $months ->
    [one] a month
   *[other] { $months } months
} of such use.
came-smell = a smell of hot plastic
came-browned = browned insulation
came-trip = the breaker tripping
came-glow = a glowing joint
came-failed = charred insulation

# Timeline
moment-act = { $act }
moment-read = { $how }: { $shown }
moment-breach = ! { $what }
moment-handed-over = Handed over.
moment-made-safe = Made safe and left.
moment-hurt = Hurt.

# Points lost: what, and why it matters
loss-root-none = No root cause was named.
loss-root-none-why = A repair without a named cause mends what happens to be touched.
loss-root-undecided = The root cause was left open.
loss-root-undecided-why = Undecided is honest and earns no points for the cause; name it before the first cut.
loss-root-place = { $said } was right, its place was not.
loss-root-place-why = The right kind at the wrong place sends the repair to a sound part.
loss-root-part = { $thing } was named, not the termination on it.
loss-root-part-why = A part has several terminations and a conductor two ends: the repair starts at one of them.
loss-root-kind = { $said } was named; it was something else.
loss-root-kind-why = The wrong cause leaves the right one at work.
loss-root-contributor = A second cause was not named: { $kind }.
loss-root-contributor-why = Two causes each too small alone made this together. Stopping at the first leaves half of it.
loss-root-no-contributor = { $said } was named beside the cause, and was none.
loss-root-no-contributor-why = Each false contributor is work the owner pays for nothing.
loss-damage-none = Nothing was said of what the heat has damaged.
loss-damage-none-why = That nothing is damaged is a finding as well, and has to be declared.
loss-damage-unseen = Nothing of the circuit was looked at or read: that something is damaged or sound was a guess.
loss-damage-unseen-why = Damage is found with the cover off, and by pulling and reading. A guess earns nothing.
loss-damage-not-named = { $thing } was damaged by the heat and not named.
loss-damage-not-named-why = What the heat has damaged belongs to the repair.
loss-damage-sound = { $thing } was called damaged and was sound.
loss-damage-sound-why = Sound parts stay in.
loss-confidence-none = No confidence was given.
loss-confidence-none-why = How sure one is decides what to check before cutting.
loss-confidence-undecided = Undecided: no confidence to judge.
loss-confidence-undecided-why = A number, even a low one, says more.
loss-confidence-low = Right, at { $percent }.
loss-confidence-low-why = The readings could have carried more.
loss-confidence-wrong = Not right, at { $percent }.
loss-confidence-wrong-why = Doubt was in place and costs little. The readings that would settle it were still to be had.
loss-confidence-high = Not right, at { $percent }.
loss-confidence-high-why = Sure and wrong is the costliest pair.
loss-exposure-none = Nothing of the circuit was examined.
loss-exposure-none-why = Keeping away is no skill: points for conduct are for work that was done.
loss-exposure = { $time } within reach of exposed live parts.
loss-exposure-why = Leads placed dead and read with the cover on answer the same question from outside.

loss-cause-left = { $kind } is still there.
loss-cause-left-why = Nothing else counts as a repair while the cause is in.
loss-elements-quoted = Worn elements told, priced and left to the owner.
loss-damage-left = { $thing } stays in with its heat damage.
loss-damage-left-why = Burnt metal and dark copper heat again: it will be back.
loss-vent-left = The vents of { $thing } are still covered.
loss-vent-left-why = A board sheds its heat into the room. In a hot room each breaker trips earlier and each joint ages faster.
loss-stab-left = A breaker sits on the burnt stab of space { $space } of { $thing }.
loss-stab-left-why = A burnt stab has no spring and no plating to give: the new breaker's jaw burns on it as the old one did. It belongs on a clean pair.
loss-not-verified = No screw was given a second pass, not even { $thing }.
loss-not-verified-why = Strands bed down under the first turn and when the conductor is dressed. One more pass at the same setting, once, before the cover goes on, finds that out. It is no retightening: of a sound old joint nobody asks it.
loss-needless-part = { $thing } was replaced, and was neither the cause nor damaged.
loss-needless-part-why = A part changed to see whether it helps is paid for by somebody, and hides what was wrong.
loss-healthy-unseen = Nothing shows that the terminations are sound: none was pulled at, put to the torque tool or read at load, on both legs.
loss-healthy-unseen-why = That nothing is wrong is a finding too. Guessed right is not found.
loss-healthy-part = { $thing } was replaced and was sound.
loss-healthy-part-why = Nothing was wrong: explain it, and change nothing.
loss-healthy-joint = { $thing } was sound and was worked on.
loss-healthy-joint-why = A correct joint is not retightened; each one opened can be made worse.
loss-safe-sound = Nothing was wrong, and it was shut down.
loss-safe-sound-why = A sound appliance left off is a day lost and a visit paid for. Show that it is sound and hand it over.
loss-safe-not-declared = Nothing was declared, not even that it is undecided.
loss-safe-not-declared-why = A return visit starts from what this one says it is. 'Not decided' is an honest answer; none is no answer.
loss-safe-not-examined = Nothing of the circuit was examined before it was left.
loss-safe-not-examined-why = Switched off unseen, nobody knows whether it is safe, nor what to bring.
loss-safe-evasion = It was left although everything for the repair lay in the van and nobody had forbidden it. The supervisor was not asked.
loss-safe-evasion-why = A return visit for what could have been done today is paid for by the owner. Not being sure of oneself is a good reason: say so to the supervisor.
loss-safe-evasion-called = It was left although everything for the repair lay in the van; the supervisor knew.
loss-safe-evasion-called-why = Asking first is right and costs little. Next time ask for somebody beside you, and mend it.
loss-safe-unsearched = The cause was left open after next to no search: no joint read at load, hardly a termination tried.
loss-safe-unsearched-why = 'Not found' is honest once it was looked for. Who comes next starts where this visit did.
loss-safe-not-asked = The cause was left open, and nobody was asked.
loss-safe-not-asked-why = Who does not find it calls somebody who may. That is what the supervisor is for.
loss-safe-not-quoted = The owner has no quote for what is still to be done.
loss-safe-not-quoted-why = It stays off until somebody agrees to a price; without one nobody can.
loss-safe-no-return = No day for the return visit was agreed.
loss-safe-no-return-why = Off and forgotten, somebody else will switch it on.
loss-safe-not-told = The owner was told nothing.
loss-safe-not-told-why = Whoever finds it off must know why it is off and when you come back.

loss-proof-short = Full load with covers on for { $time } after the last work.
loss-proof-short-why = A joint takes half an hour to show its temperature, and a fault at hour four is not disproved by two minutes.
loss-proof-nothing = Nothing was mended: there is nothing that half an hour at full load could prove.
loss-proof-nothing-why = Proof is of a repair. What runs as it was found proves that it is as it was found.
loss-proof-joint-sound = No joint or pole of the circuit was read at load.
loss-proof-joint-sound-why = That a circuit is sound is shown at its joints: their temperature or their drop at full current.
loss-proof-joint = The mended place was not read at load after the repair.
loss-proof-joint-why = Only the place itself says that it is mended: its temperature or its drop at full current. Another circuit, an earth or a part elsewhere says nothing of it.
loss-proof-beside = { $thing } itself was not read, only the part it sits in.
loss-proof-beside-why = A face or the drop across a breaker does not have the joint between its points.
loss-proof-other-leg = The other leg was not read beside it.
loss-proof-other-leg-why = The twin at the same current is the best reference there is. Where poles carry unequal currents, divide each drop by its own current before comparing.
loss-proof-no-drop = { $thing } was judged by its temperature alone, without a drop at its current.
loss-proof-no-drop-why = Temperatures in a warm box climb for hours. Millivolts over amperes say at once what the joint is worth: a few tenths of a milliohm.
loss-proof-climbing = { $thing } still moved when it was read last.
loss-proof-climbing-why = Not its temperature has to stand still but its difference to the other leg or to the air about it: less than 1 K in ten minutes.
loss-proof-open = { $thing } was read with the cover off and the circuit live.
loss-proof-open-why = Leads and probes placed dead, led out and read with the cover on, give the same figure from outside.
loss-proof-no-return = No check at the next long run is agreed.
loss-proof-no-return-why = A fault that comes after hours is not disproved by half an hour. It is proved when somebody looks at it then.
loss-proof-once = Read once, not again later.
loss-proof-once-why = One value does not say whether it still climbs.
loss-proof-run = The loss along { $thing } was not read at load after the repair, nor how warm it gets.
loss-proof-run-why = A conductor shows its size by what it loses: the voltage at its far end, or its own warmth.
loss-proof-amps = The current was not read after the repair.
loss-proof-amps-why = A drop or a temperature means nothing without its current.
loss-proof-volts = The voltage was not read beside the current.
loss-proof-volts-why = The resistance of a load is voltage over current; one alone leaves it open.
loss-proof-not-told = The owner was not told, after the load, what is proved and that a long run is not proved yet.
loss-proof-not-told-why = Half an hour proves half an hour; the next long run is the rest.
loss-safe-not-tested = It was not tested that the circuit is dead.
loss-safe-not-tested-why = A handle at off is not proof.
loss-safe-not-proved = It was not shown dead where it is locked off: { $reason }.
loss-safe-not-proved-why = Leg to leg, each leg to earth, the tester shown good before and after. Less is a hope.
loss-safe-no-reason = The owner was not told what was found, after it was found and declared.
loss-safe-no-reason-why = The next visit starts from what this one found.
loss-safe-no-record = No reading or note of what was found was left for the return visit.
loss-safe-no-record-why = What is not written down is found twice.

loss-told-cause = The owner was not told the cause.
loss-told-cause-why = One sentence on what it was and what was done is owed to whoever pays.
loss-told-cause-wrong = The owner was told a cause that was not the cause.
loss-told-cause-wrong-why = He will pay for it, believe it and repeat it to whoever comes next.
loss-told-cause-early = The owner was told a cause before one was declared.
loss-told-cause-early-why = Make up your mind first: what was said cannot be taken back.
loss-told-sisters-early = The owner was told of the sister terminations before anything was examined.
loss-told-sisters-early-why = What nobody has looked at cannot be reported on.
loss-told-resetting-early = The owner was told about resetting before anything was examined.
loss-told-resetting-early-why = Advice comes after the finding, or it is a leaflet.
loss-told-elements-early = The owner was told about the elements before anything was examined.
loss-told-elements-early-why = What nobody has read or looked at cannot be reported on.
loss-told-old-parts-early = Old parts were handed back before there were any.
loss-told-old-parts-early-why = They show what was wrong, once they are out.
loss-told-sisters = The owner was not told about the sister terminations.
loss-told-sisters-why = The same hand made them.
loss-told-sisters-untrue = The owner was told that the other terminations are sound, and none was checked.
loss-told-sisters-untrue-why = 'Not looked at yet' is an honest answer. This one is believed until it burns.
loss-told-clearance = The owner was not told what has to stay clear of the appliance.
loss-told-clearance-why = Shelves, towels and lint move back towards what is hot the day after.
loss-told-clearance-early = The owner was told about clear space before anything was examined.
loss-told-clearance-early-why = Advice comes after the finding, or it is a leaflet.
loss-told-ventilation = The owner was not told about the warm room and its vents.
loss-told-ventilation-why = Above 35 °C breakers trip below their rating, and everything in the board ages faster.
loss-told-ventilation-early = The owner was told about the room's vents before anything was examined.
loss-told-ventilation-early-why = Advice comes after the finding, or it is a leaflet.
loss-told-directory = The owner was not told that the directory is wrong.
loss-told-directory-why = The next person switches off what it says and puts hands in.
loss-told-directory-early = The owner was told about the directory before anything was examined.
loss-told-directory-early-why = Advice comes after the finding, or it is a leaflet.
loss-told-permit = The owner was not told of the permit that the alteration asks for.
loss-told-permit-why = A circuit pulled anew or moved is an alteration: most authorities want to know of it, and the insurer asks.
loss-told-permit-early = The owner was told of a permit before anything was examined.
loss-told-permit-early-why = Advice comes after the finding, or it is a leaflet.
loss-told-all-good-untrue = The owner was told that all is good. It was not.
loss-told-all-good-untrue-why = Whoever hears that loads it tonight and looks at nothing.
loss-told-all-good-unproved = The owner was told that all is good, before that was proved or its limits were said.
loss-told-all-good-unproved-why = What half an hour shows is half an hour. Say what is proved and what waits.
loss-told-ventilation-untrue = The owner was told of a warm room and its vents, and the room is neither warm nor closed.
loss-told-ventilation-untrue-why = Advice that does not belong here makes the rest of it doubtful.
loss-told-directory-untrue = The owner was told that the directory is wrong, and it is not.
loss-told-directory-untrue-why = Advice that does not belong here makes the rest of it doubtful.
loss-told-permit-untrue = The owner was told of a permit, and nothing was altered that asks for one.
loss-told-permit-untrue-why = Advice that does not belong here makes the rest of it doubtful.
loss-told-quote-needless = A quote was left for work that nothing asks for.
loss-told-quote-needless-why = Sold fear is remembered longer than a repair.
loss-told-resetting = The owner was not told about resetting.
loss-told-resetting-why = A breaker that trips is not reset twice.
loss-told-elements = The owner was not told about the elements' age.
loss-told-elements-why = They wear, and their next change can be planned.
loss-told-old-parts = The old parts were not handed back.
loss-told-old-parts-why = They show what was wrong.
loss-photo = No photo of the circuit as found, cover off, before the work.
loss-photo-why = Afterwards nobody can see how it was.
loss-readings-load = As found, no joint was read at load with its current beside it, and no termination was pulled at or tried with the torque tool.
loss-readings-load-why = Before and after can only be compared at a known current; what was found tripped or off is compared by hand instead. A test for dead says nothing of a joint.
loss-sisters = Other terminations of the circuit were not checked.
loss-sisters-why = Where one is loose, each that hand made is checked, dead.
loss-stab-not-marked = Space { $space } of { $thing } is not marked as burnt.
loss-stab-not-marked-why = Behind a clean filler plate the next person finds a free pair, and uses it.
loss-board-not-quoted = The owner has no quote for the interior of { $thing }.
loss-board-not-quoted-why = A burnt stab is not mended by moving away from it. The board's interior has to come, and the owner has to know what it costs.
loss-hand-over-unseen = It was handed over unseen: nothing of the circuit was examined.
loss-hand-over-unseen-why = There is nothing to tell and nothing to write down.
loss-sheet-found = No value as found stands on the job sheet.
loss-sheet-found-why = The next person, and the insurer, start from what it was.
loss-sheet-left = No value as left stands on the job sheet, read after the last work.
loss-sheet-left-why = Beside the value as found it is the whole proof that something was mended.
loss-sheet-no-load = A value stands on the job sheet without the load it was taken at.
loss-sheet-no-load-why = Millivolts and kelvins without amperes cannot be compared with anything, not even with themselves next year.
loss-sheet-work = Not on the job sheet as fitted or tightened last: { $things }.
loss-sheet-work-why = Rating, type and torque are what the next one needs, and what an inspector asks first.
loss-certificate-missing = What was altered was handed over without a certificate of verification.
loss-certificate-missing-why = Continuity, insulation, polarity, loop and trip time are measured and written down before the owner has it back. Local rules say who may sign.
loss-certificate-stale = The certificate was written before the last work.
loss-certificate-stale-why = It vouches for a state that is gone.
loss-certificate-blank = Not tested on the certificate: { $what }.
loss-certificate-blank-why = A blank line is honest, and a test that was not made.
loss-certificate-fails = It was handed over with a value that does not pass: { $what }.
loss-certificate-fails-why = What does not pass is found and mended, or left off.
loss-note = Nothing was written down once something had been examined.
loss-note-why = The job sheet is for the next person.

# Reading a record
record-line = A record's line could not be read: found { $found }, accepted { $accepted }.

# Readings whose limits stand on sources that part.
note-conflict = { $what }: { $conflict }.
reading-millivolts = Millivolts across a joint or a pole
reading-insulation = Insulation resistance
reading-thermal = Temperatures by infrared
