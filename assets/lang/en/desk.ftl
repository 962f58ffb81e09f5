# Commands, files and records.

desk-no-scenarios = No scenario is at hand. Name a folder of scenarios in FAULTWRIGHT_SCENARIOS, or give a scenario file.
desk-no-scenario = There is no scenario file '{ $asked }'.
desk-no-scenario-nearest = There is no scenario '{ $asked }'. The nearest name is '{ $nearest }'.
desk-unreadable = { $file }: { $why }
desk-no-site = { $file }: its site '{ $site }' is not there. The command 'check' says more.
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
debrief-text-mark = { $part }: { $got } of { $of }.
debrief-text-mark-unjudged = { $part }: not judged.
debrief-text-exposed = Time within reach of exposed live parts: { $time }.
debrief-text-truth = What was so:
debrief-text-breaches = Safety and rules, worst first:
debrief-text-breach = { $when }  { $what } { $why } ({ $source })
debrief-text-losses = Points lost, largest first:
debrief-text-loss = { $points } at { $when }: { $what } { $why } ({ $source })
debrief-text-timeline = What happened:
