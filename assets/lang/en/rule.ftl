# Rules of safety and workmanship: what was done, and why it matters.
# The wording is ours; the standards' own text governs, and local codes and makers' instructions come before both.

source-clause = { $clause }; { $known }
source-read = clause read
source-secondary = known from somebody's account of it
source-memory = from memory, check before relying on it
source-practice = common practice, no source

rule-unknown-what = A rule was broken.
rule-unknown-why = The rule is not known to this version.

rule-live-contact-what = Hands or tools were on { $thing } while it stood at { $volts } to earth. { $outcome }
rule-live-contact-why = Above 50 V conductors are made dead before anybody works on them. A dead short at the board would draw about { $prospective }.
rule-not-proved-dead-what = Work began on { $thing } before it was proved dead: { $reason }.
rule-not-proved-dead-why = Until every pair was tested at the place of work, with a tester shown good before and after, a conductor counts as live. A wrong handle, a welded pole or a broken lead look just like dead.
rule-not-isolated-what = Work began on { $thing } with every handle before it on: only the controller or the contactor kept it dead.
rule-not-isolated-why = A contactor closes by itself when the controller calls, and its contacts weld. Only an open handle, locked, holds a circuit off.
rule-live-in-reach-what = Hands worked in { $thing } with { $part } live and bare beside them, { $reason }.
rule-live-in-reach-why = Hand and tool slip by a few centimetres; what cannot be switched off is covered first. A dead short there would draw about { $prospective }.
rule-dress-what = At live parts in { $thing } { $reason }.
rule-dress-why = Insulating gloves keep current out of the hand, the shield keeps an arc off the face. Both stay on until the place is proved dead.
rule-ring-what = A metal ring was on the finger at live parts in { $thing }.
rule-ring-why = A ring bridges two conductors with the finger in it and welds fast. It comes off before live work.
rule-no-lock-what = The handle { $thing } was off without a lock while hands were in.
rule-no-lock-why = Others may want it on again. Your own lock is the only thing that stops them.
rule-no-tag-what = The lock on { $thing } had no notice.
rule-no-tag-why = A notice says who works there and why, so that nobody cuts the lock.
rule-re-energised-what = Somebody put { $thing } back on while { $box } was open.
rule-re-energised-why = Nothing held it off. With a lock it would have stayed off.
rule-energised-open-what = { $thing } was energised with its cover off after work in it.
rule-energised-open-why = New work is closed onto with the cover on, standing aside: if something was forgotten, the cover takes it.
rule-open-unattended-what = { $thing } was made live while it stood open with nobody there.
rule-open-unattended-why = Live parts must be guarded against anybody who comes by.
rule-lock-off-early-what = The lock came off { $thing } while { $box } was still open after work.
rule-lock-off-early-why = Tools, wires and people are checked and the cover is on before the lock comes off.
rule-reclosed-what = { $thing } had opened by itself and was closed again: { $reason }.
rule-reclosed-why = A breaker that opens by a fault may close onto it. After a plain overload, shown by a look at the circuit, closing it is right.
rule-outage-what = { $thing } was switched off without a word to the owner.
rule-outage-why = Everything else on the board drops with it: a firing half through, an alarm, the lights over somebody's hands.
rule-meter-misuse-what = The multimeter was on millivolts across { $volts }, { $a } to { $b }.
rule-meter-misuse-why = The sensitive range is for the drop along one conductor. Across two it blows the fuse at best.
rule-thermometer-live-what = The metal probe of the thermometer was put on { $thing } while that was live.
rule-thermometer-live-why = A contact probe goes on live insulation, or on metal that was dead when it was placed.
rule-hot-touch-what = A bare hand was on { $thing } at { $celsius }.
rule-hot-touch-why = Metal burns skin within a second from about 65 °C, plastic from about 85 °C.

rule-will-burn-what = { $thing } is left with { $watts } of heat in the joint at { $amps }.
rule-will-burn-why = That takes the termination past what it is rated for. It will burn.
rule-will-return-what = { $thing } is left with { $watts } of heat in the joint at { $amps }.
rule-will-return-why = A sound joint makes a few tenths of a watt. This one will be back.
rule-torque-what = { $thing } is left at { $torque }, specified { $specified }: { $reason }.
rule-torque-why = Nobody can vouch for a screw off its value. It need not burn, but it must not be signed for.
rule-termination-what = { $thing } is not made to specification: { $reason }.
rule-termination-why = Screw torque proves nothing where the conductor does not lie in the clamp as it should.
rule-damaged-left-what = { $thing } is left damaged by heat: { $reason }.
rule-damaged-left-why = Burnt plating and dark copper make heat again whatever the torque. Parts damaged by overheating are replaced.
rule-protection-lost-what = { $thing } is now a { $fitted } breaker where { $amps } is the most allowed.
rule-protection-lost-why = The conductor and the appliance are no longer protected. Tripping was the symptom, not the fault.
rule-wrong-part-what = { $stock } in { $thing } does not belong there: { $reason }.
rule-wrong-part-why = Rating, poles and listing are what the rest of the circuit was chosen by.
rule-pinhole-left-what = { $holes ->
    [one] A test pin's hole is left in the insulation at { $thing }.
   *[other] { $holes } holes of test pins are left in the insulation at { $thing }.
}
rule-pinhole-left-why = Insulation that was pierced is taped or cut away.
rule-open-space-what = The space of { $thing } is left open over the bus bars.
rule-open-space-why = A finger or a dropped screw fits through.
rule-cover-left-off-what = { $thing } is left with its cover off.
rule-cover-left-off-why = Live parts are left to the next person who comes by.
rule-left-able-to-run-what = The circuit is left unsafe at { $thing }: { $reason }.
rule-left-able-to-run-why = Made safe means off, locked and marked, so that it stays off until somebody has mended it.
rule-part-missing-what = { $thing } is taken out and nothing is in its place.
rule-part-missing-why = Its conductors hang loose and are live as soon as they are called for.
rule-lock-left-what = { $thing } is handed over with { $reason } on it.
rule-lock-left-why = Who put a lock or a notice on takes it off. Left behind, it says that somebody still works there, and the next one is not believed.
rule-left-off-what = { $thing } is handed over with its { $reason }.
rule-left-off-why = Handing over means that the circuit works and everything else on the board is as it was. What must stay off is made safe and said.
rule-left-inside-what = At { $thing } { $left } is left inside.
rule-left-inside-why = Tools, leads and barriers come out before a cover is closed for good: they short, burn, or are found by somebody with a finger.
rule-left-on-full-what = { $thing } is handed over at full power, as set for the test.
rule-left-on-full-why = Full power follows no program and no cone. Nobody stands beside it now.
rule-proof-short-what = Handed over after { $time } at full load with covers on since the last work.
rule-proof-short-why = A joint takes half an hour at full load to show its temperature.

# What a contact does to a body
shock-none = Nothing was felt: insulation lay between the hand and the metal.
shock-felt = About { $milliamps } mA went through the body: felt, and a start.
shock-held = About { $milliamps } mA went through the body: above 10 mA the hand cannot let go. The job ends here.
shock-heart = About { $milliamps } mA went through the chest: above 50 mA the heart may stop within a second. The job ends here.

# Reasons inside the sentences above
reason-proof-no-test = no test was made
reason-proof-switched-on-since = it was switched on since the test
reason-proof-showed-live = the last test showed voltage
reason-proof-instrument = only a pen or a multimeter was used
reason-proof-elsewhere = the tests were made somewhere else
reason-proof-pairs = not every pair was tested, leg to leg and each leg to earth
reason-proof-bus = its own terminals were tested, the bus bars it plugs on to were not
reason-proof-not-before = the tester was not shown good before
reason-proof-not-after = the tester was not shown good afterwards
reason-missing-visor = the face shield was missing
reason-missing-gloves = the gloves were missing
reason-missing-both = gloves and face shield were missing
reason-dressed = with gloves and face shield, though a handle would have made it dead
reason-bare = with no barrier, and not dressed for it
reason-reclosed-unseen = nobody had looked at the circuit
reason-reclosed-one-end = only one end of the circuit had been looked at
reason-left-loose = the conductor is out of its clamp
reason-strip-short = insulation sits in the clamp
reason-strip-long = bare copper stands outside the clamp
reason-strands-out = strands stand outside the clamp
reason-not-dressed = the conductor pulls at the clamp
reason-torque-none = not tightened
reason-torque-wrist = by wrist, without a torque tool
reason-torque-value = set to another value
reason-damaged-sanded = dark copper rubbed bright
reason-damaged-dark = dark copper in the clamp
reason-damaged-metal = burnt clamp
reason-damaged-part = browned or blistered part
reason-part-common-trip = the poles do not open together
reason-part-rating = rated too low for a continuous load
reason-part-not-listed = not listed for this place
reason-left-on = it is still on
reason-left-unlocked = no lock holds it off
reason-left-untagged = no notice says why
reason-own-lock = your own lock
reason-own-notice = your own notice
reason-standing-off = handle at off
reason-standing-tripped = handle tripped
reason-barrier = the barrier
