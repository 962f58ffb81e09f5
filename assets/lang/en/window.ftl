# The window.

window-name = Faultwright
window-subtitle = Finding heat faults in low-voltage equipment
window-begin = I have read this. Begin.
window-cautions-keys = Enter goes on. F1 shows all keys later.
window-no-display = There is no display to open a window on. The same game goes on in text.
window-no-driver = There is no graphics driver to draw a window with. The same game goes on in text.
window-no-terminal = There is no terminal either. Open a display, or run 'faultwright terminal' with a terminal or with lines on its input.
window-trouble = Something went wrong

# Choosing a job.
window-choice-title = Jobs
window-unfinished = An attempt is not ended
window-unfinished-what = { $scenario }, seed { $seed }, { $spent } on the job's clock.
window-go-on = Go on with it
window-hand-in = Hand it in as it stands
window-seed = Seed
window-seed-hint = The same seed gives the same job. Leave it empty for a fresh one.
window-seed-wrong = A seed is a whole number from 0 upwards.
window-begin-job = Begin: { $title }
window-minutes = about { $minutes } minutes at the screen
window-unsound = This scenario cannot be played. Its files have these problems:

# The head of the window.
window-clock-moving = moving
window-clock-stopped = stopped
window-at = At { $place }
window-worn = worn: { $gear }
window-worn-nothing = nothing
window-stop = Stop
window-watch = Watch
window-pace = ×{ $times }
window-watching = let go or stop to end the watch
window-notebook-key = Notebook
window-hand-key = In hand
window-help-key = Keys
window-gear-gloves = insulating gloves
window-gear-visor = face shield
window-gear-ring = ring on the finger

# Captions.
window-caption = { $when }  { $what }
window-doing = { $what } – until { $until }
window-doing-watch = Watching
window-refused-away = Put away

# The belt and lists.
window-belt = Belt (B)
window-go = Go (G)
window-talk = Owner (T)
window-controller = Controller (C)
window-wait = Wait (W)
window-end = End (E)
window-declare = Declare (D)
window-list-away = Close (Esc)
window-list-more = More (8)
window-list-empty = Nothing can be done with this from here.
window-closer = Bring it nearer
window-from-volts = Volts: first tip on { $point }
window-from-millivolts = Millivolts: first tip on { $point }
window-from-test = Two-pole tester: first tip on { $point }
window-to = Second tip on { $point }
window-second-tip = First tip on { $first }. Choose the second point.
window-tip-back = Take the tip back (Esc)

# Things.
window-kind-board = Board { $name }
window-kind-box = Box { $name }
window-kind-breaker = Breaker { $name }
window-kind-main = Main breaker { $name }
window-kind-isolator = Isolator { $name }
window-kind-block = Terminal block { $name }
window-kind-contactor = Contactor { $name }
window-kind-controller = Controller { $name }
window-kind-bank = Element bank { $name }
window-kind-bars = Bars { $name }
window-kind-chamber = Kiln chamber { $name }
window-kind-port = Termination { $name }
window-kind-run = Cable { $name }
window-kind-core = Conductor { $name }
window-kind-place = Place { $name }
window-state-on = on
window-state-off = off
window-state-tripped = tripped
window-state-open = cover off
window-state-shut = cover on
window-state-shielded = barrier in
window-state-locked = your lock on it
window-state-tagged = your notice on it
window-state-loose = conductor out
window-state-out = taken out
window-state-far = out of reach
window-mode-off = Off
window-mode-firing = Firing
window-mode-full = Full power
window-you-here = You: { $place }

# Instruments.
window-tool-clamp = Clamp meter
window-tool-meter = Multimeter
window-tool-tester = Two-pole tester
window-tool-pen = Voltage pen
window-tool-thermometer = Contact thermometer
window-tool-torque = Torque screwdriver
window-hand-title = In hand and in place
window-hand-empty = No instrument is in place. Choose a point of the drawing.
window-take-away = Take away
window-display = { $tool } shows { $shown }
window-display-blank = – – –
window-lamp-unit = V lamp
window-beeps = beeps
window-silent = silent
window-over = OL
window-strip = Strip chart of this reading over time
window-between = { $a } to { $b }
window-jaw-core = jaw round conductor { $name }
window-jaw-run = jaw round the whole cable { $name }
window-proving-unit = on the proving unit
window-screw-of = screw of { $name }
window-probe-metal = metal of { $name }
window-probe-wire = conductor at { $name }, through the insulation
window-probe-bus-a = bus bar A
window-probe-bus-b = bus bar B
window-probe-line-a = line lug A
window-probe-line-b = line lug B
window-probe-neutral = neutral bar
window-probe-earth = earthed metal at { $name }
window-spot-metal = metal of { $name }
window-spot-insulation = insulation beside { $name }
window-spot-face = face of { $name }
window-spot-case = outside of { $name }
window-spot-air = air at { $name }
window-spot-run = outside of cable { $name }
window-spot-bus-a = bus bar A
window-spot-bus-b = bus bar B

# The notebook.
window-page-sheet = Job sheet
window-page-readings = Readings
window-page-declare = Declaration
window-owner-says = The owner says:
window-sheet-task = Find the cause and its place, repair it, prove the repair, record it, hand over. Or make safe and come back.
window-note = Your note
window-note-write = Write it down
window-readings-empty = Nothing was read, seen or said yet.
window-reading-how = { $tool }, { $where }, held { $held }

# The declaration.
window-declare-title = What is it?
window-declared-already = You have declared already. A later declaration takes its place.
window-declare-kind = Root cause
window-declare-undecided = Not decided, opening up
window-declare-where = Where
window-declare-where-hint = The thing itself, as it is labelled.
window-declare-nothing-chosen = choose a thing
window-declare-sure = How sure are you?
window-declare-percent = percent
window-declare-also = What contributes
window-declare-add = Add this contributor
window-declare-damaged = What the heat has damaged
window-declare-add-damaged = Add this damaged part
window-strike-out = Strike out
window-declare-incomplete = Choose where it is.
window-declare-make = Declare this
window-suspect-termination = Loose or badly made termination
window-suspect-contact = Worn contact
window-suspect-overdraw = Load draws too much
window-suspect-worn = Load draws too little, worn
window-suspect-conductor = Conductor too small
window-suspect-surroundings = Heat from outside
window-suspect-healthy = Nothing wrong with the equipment

# The end.
window-ended-handed-over = Handed over to the owner.
window-ended-made-safe = Made safe and left.
window-ended-hurt = You are hurt. The job ends here.
window-ended-handed-in = Handed in as it stood.
window-ended-at = The clock stands at { $when }.
window-to-debrief = To the debrief
window-leaf-judgement = Judgement
window-leaf-timeline = What happened
window-leaf-plot = Temperatures
window-again = The same complaint, another cause
window-other-job = Other jobs
window-gates = What must never happen
window-breaches = Safety and rules
window-marks = Parts of the score
window-total = Together { $got } of { $of } points that are judged.
window-lesson = What cost most: { $number } of { $of }
window-loss = { $points } points: { $part }
window-lesson-before = The one before
window-lesson-next = The next one
window-read-and-true = Readings beside what was so
window-nothing-compares = nothing to compare with
window-compared = { $when }  { $tool }: { $shown }. So: { $truth }
window-plot-title = True temperatures, and what you read
window-plot-how = Lines are true, marks are your readings. Where you took none, the hottest terminations are shown.
window-plot-empty = No temperatures were kept.

# Help.
window-help-title = Keys
window-help-mouse = With the mouse: click a thing for what can be done with it, drag to move the wall, turn the wheel to come nearer.
window-help-tab = next point, point before
window-help-enter = what can be done with the point
window-help-digits = choose from a list, more of it
window-help-escape = close a list, take the first tip back
window-help-space = hold: watch, time passes
window-help-pace = speed of watching: ×1, ×10, ×60
window-help-belt = belt: what is worn, carried and placed
window-help-go = go to another place
window-help-talk = ask, agree with or tell the owner
window-help-controller = the controller
window-help-wait = wait for some time
window-help-notebook = notebook
window-help-hand = what is in hand and in place
window-help-declare = declare the cause
window-help-end = make safe and leave, or hand over
window-help-home = arm's length, the whole wall
window-help-zoom = nearer, further, move; F6 goes to the drawing
window-help-scale = everything larger or smaller
