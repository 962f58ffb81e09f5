# Commands, files and records.

desk-no-scenarios = No scenario is at hand. Name a folder of scenarios in FAULTWRIGHT_SCENARIOS, or give a scenario file.
desk-no-scenario = There is no scenario file '{ $asked }'.
desk-no-scenario-nearest = There is no scenario '{ $asked }'. The nearest name is '{ $nearest }'.
desk-unreadable = { $file }: { $why }
desk-not-a-scenario = { $file }: this is no scenario file that can be read, for it names no site. The command 'check' says more.
desk-seed = '{ $found }' is no seed. A seed is a whole number from 0 to 18446744073709551615.
desk-no-site = { $file }: site: found '{ $site }', which is not there; accepted: { $known }
desk-at-the-end-of-the-range = { $file }: node { $node } is at { $celsius } °C at { $seconds } s, the end of the range: it stays there. No steady state within the range carries off its heat; rows from then on are not to be trusted.
desk-checked = { $files ->
    [one] 1 file checked
   *[other] { $files } files checked
}, { $problems ->
    [0] no problems.
    [one] 1 problem.
   *[other] { $problems } problems.
}
desk-not-a-line = That cannot be written down so that it reads back the same: { $line }
desk-nothing = nothing
desk-resume-engine = { $file }: made by engine { $engine }, and this program has engine { $ours }. It cannot be gone on with; it can be handed in as it stands.

# Verifying a record.
desk-replay-head = Scenario { $scenario }, seed { $seed }, begun { $started } UTC, program { $program }, engine { $engine }, { $lines } lines, resumed { $resumed ->
    [0] never
    [one] once
   *[other] { $resumed } times
}.
desk-replay-verified = Verified: run again, every line comes out as recorded.
desk-replay-unreadable = Not verified: { $why }
desk-replay-torn = Torn: the last line was cut off in writing. Up to there every line comes out as recorded.
desk-replay-unfinished = Unfinished: the record stops before the attempt ended. Up to there every line comes out as recorded.
desk-replay-engine = Not verified: made by engine { $engine }, and this program has engine { $ours }. Shown as recorded.
desk-replay-unsound = Not verified: the texts inside make no job.
    { $problems }
desk-replay-not-then = not possible then; the clock stands at { $now }
desk-replay-parted = Parted at line { $line }, in { $part }. Recorded: { $recorded }. Run again: { $computed }.
desk-part-plant = the equipment
desk-part-hands = what the hands did
desk-part-score = the score
desk-part-reading = a reading
desk-part-noticed = what was noticed
desk-part-end = the end
desk-part-action = an act

# What can be wrong with a record.
desk-flaw-not-a-record = This is not a record.
desk-flaw-format = This record has format { $found }; this program reads format { $ours }.
desk-flaw-line-ends = Its lines end with CR LF, as some programs write them. With plain LF line ends it can be gone on with.
desk-flaw-head = The head cannot be read: { $why }
desk-flaw-swapped-scenario = The scenario inside is not the one the attempt was made from.
desk-flaw-swapped-site = The site inside is not the one the attempt was made from.
desk-flaw-head-edited = The head was edited: name, seed, time or number is not as it was written.
desk-flaw-edited = Line { $line } was edited.
desk-flaw-deleted = Before line { $line } at least one line was taken out: number { $number } is missing.
desk-flaw-unreadable = Line { $line } cannot be read.

# The debrief as text.
debrief-text-competent = Competent in this attempt.
debrief-text-not-yet = Not yet competent in this attempt.
debrief-text-points = Points: { $got } of { $of } judged. Competence asks for no gate, the cause named or all of it mended, at least { $repair } of the 30 for the repair and at least { $proof } of the 15 for the proof.
debrief-text-exposed = Time within reach of exposed live parts: { $time }.
debrief-text-better = To do better next time, what cost most:
debrief-text-truth = What was so:
debrief-text-next = What happened next, the equipment as left run through many futures:
debrief-text-breaches = Safety and rules, worst first:
debrief-text-notes = Where sources part on what was read:
debrief-text-sheet = Job sheet and certificate as left:
debrief-text-marks = Points by part:
debrief-text-mark = { $part }: { $got } of { $of }.
debrief-text-losses = Other points lost, largest first:
debrief-text-loss = { $part }, { $points } points: { $what }
debrief-text-once = { $when }  { $what }
debrief-text-times = { $times } times, first at { $when }: { $what }
debrief-text-why = { $why } ({ $source })
debrief-text-timeline = What happened, from first to last:
debrief-text-more = 'debrief full' tells all that happened, in order; any other line ends.
