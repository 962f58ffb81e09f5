# What can be done, as offered in lists and told in time lines.

offer-go = Go to { $thing }

offer-ask-since = Ask when it began
offer-ask-when = Ask when it happens
offer-ask-work = Ask what work was done lately
offer-ask-senses = Ask what was smelt, heard or felt
offer-ask-others = Ask what else hangs on the board
offer-ask-ware = Ask what is in it
offer-agree-outage = Agree a time for switching off the whole board
offer-agree-price = Agree the price of the repair
offer-tell-cause = Tell the owner the cause and what was done
offer-tell-proof = Tell what is proved, and what waits for the next long run
offer-tell-sisters = Tell about the sister terminations
offer-tell-elements = Tell about the age of the elements
offer-tell-resetting = Tell not to reset a tripped breaker twice, and whom to call
offer-tell-old-parts = Hand back the old parts
offer-tell-quote = Tell what has still to be done, with a quote in writing

offer-look = Look at { $thing }
offer-look-closely = Look closely at { $thing }
offer-listen = Listen at { $thing }
offer-feel = Feel { $thing } with the back of the hand
offer-photo = Photograph { $thing }
offer-note = Note: { $text }

offer-wear-gloves = Put on insulating gloves
offer-wear-visor = Put on the face shield
offer-wear-ring = Put the ring on
offer-take-off-gloves = Take off the gloves
offer-take-off-visor = Take off the face shield
offer-take-off-ring = Take the ring off

offer-open = Take off the cover of { $thing }
offer-close = Put on the cover of { $thing }
offer-shield = Lay a barrier over live parts in { $thing }
offer-unshield = Take the barrier out of { $thing }
offer-plug-in = Put the plug of { $thing } in
offer-unplug = Pull the plug of { $thing }
offer-switch-on = Switch { $thing } on
offer-switch-off = Switch { $thing } off
offer-controller-off = Set the controller off
offer-controller-firing = Start its program
offer-controller-full = Start the full power test
offer-lock = Lock { $thing }
offer-unlock = Take the lock off { $thing }
offer-tag = Hang a notice on { $thing }
offer-untag = Take the notice off { $thing }

offer-amps-core = Clamp round { $thing }
offer-amps-run = Clamp round the whole of { $thing }
offer-volts = Volts: { $a } to { $b }
offer-millivolts = Millivolts: { $a } to { $b }
offer-test = Two-pole tester: { $a } to { $b }
offer-pen = Pen at { $point }
offer-temperature = Temperature: { $spot }
offer-prove = Prove the two-pole tester on the proving unit
offer-clear = Take away the { $tool }

offer-pull = Pull at the conductor in { $thing }
offer-torque-found = Take the torque of { $thing } as found
offer-loosen = Undo { $thing } and take the conductor out
offer-cut-back = Cut the conductor of { $thing } back by { $mm } mm
offer-strip = Strip the conductor of { $thing } to { $mm } mm
offer-sand = Rub the conductor of { $thing } bright
offer-splice = Splice new conductor on at { $thing }
offer-insert = Put the conductor into { $thing }
offer-dress = Dress the conductor at { $thing }
offer-hand-tighten = Tighten { $thing } by wrist
offer-torque = Torque { $thing } to { $nm }
offer-verify = Verify the torque of { $thing }
offer-tape = Tape the pinhole at { $thing }
offer-remove = Take out { $thing }
offer-fit = Fit { $stock } as { $thing }
offer-bench = Open { $thing } on the bench
offer-move = Make the spaces from { $space } on ready for { $thing }
offer-blank = Close space { $space } of { $thing } with a filler plate
offer-mark = Mark space { $space } of { $thing } as not to be used
offer-refit = Put the old { $thing } back
offer-vent = Clear what stands before the vents of { $thing }
offer-repull = Pull { $thing } anew with { $stock }

offer-wait = Wait { $time }
offer-watch = Watch for { $time }
offer-stop = Break off what is being done
offer-declare = Declare a cause
offer-declare-undecided = Declare: not decided, opening up
offer-make-safe = Make safe and leave for a return visit
offer-hand-over = Hand over

# Why nothing can be done at all
refused-over = The job is over.
refused-busy = Busy until { $until }. Break off ('stop') to do something else.
refused-nothing-to-stop = Nothing is being done that could be broken off.
