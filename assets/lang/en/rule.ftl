# Rules of safety and workmanship: what was done, and why it matters.
# The wording is ours; the standards' own text governs, and local codes and makers' instructions come before both.

source-clause = { $clause }; { $known }
source-read = clause read
source-secondary = known from somebody's account of it
source-memory = from memory, check before relying on it
source-practice = common practice, no source
source-in-conflict = { $source }. Sources part: { $conflict }

# Where sources part, beside the clause or the reading it concerns.
conflict-boundary = the restricted boundary at 240 V is 0.3 m in newer editions of NFPA 70E, “avoid contact” in older ones
conflict-gloves = in North America gloves go back for an electrical test every six months (OSHA table I-5, ASTM F496); EN 60903 asks of classes 00 and 0 no more than a look and the air test, so houses differ
conflict-steps = older editions of NFPA 70E count six steps to a safe state, editions since 2018 eight
conflict-tester = OSHA asks by law for the tester to be checked before and after only above 600 V, NFPA 70E and HSE GS38 at any voltage
conflict-place = before 2024 NFPA 70E did not say that the test is made at each point of work
conflict-torque = NEC 2017 asked for a calibrated torque tool, 2020 and 2023 ask for approved means: tool, shear bolt or indicator
conflict-retorque = some tighten anew every year, some never, some check at 90 % of the value; makers of connectors say that a joint made to its value is not tightened again
conflict-ampacity = 14 and 12 AWG at 60 °C are 20 and 25 A in older tables, 15 and 20 A in newer ones
conflict-millivolts = one maker accepts 200 mV a pole at rated current, another's 15 A pole drops 525 mV in health, and a spread of 50 % between poles is used as well: no limit holds across ratings and makers
conflict-insulation = BS 7671 once asked for 0.5 MΩ at 500 V, now 1 MΩ with IEC 60364-6, and below 2 MΩ one looks further
conflict-insulation-us = NETA asks for 25 MΩ of 250 V equipment, IEC 60364-6 for 1 MΩ of a circuit; no figure stands in the NEC
conflict-thermal = NETA sorts by whole kelvins and leaves gaps between its bands, and accounts differ on whether 15 K is “when time permits” or “at once”; ISO 18434-1 gives no table at all

rule-unknown-what = A rule was broken.
rule-unknown-why = The rule is not known to this version.

rule-live-contact-what = Hands or tools were on { $thing } while it stood at { $volts } to earth. { $outcome }
rule-live-contact-why = Above 50 V conductors are made dead before anybody works on them. { $arc }
rule-not-proved-dead-what = Work began on { $thing } before it was proved dead: { $reason }.
rule-not-proved-dead-why = Until every pair was tested at the place of work, with a tester shown good before and after, a conductor counts as live. A wrong handle, a welded pole or a broken lead look just like dead.
rule-not-isolated-what = Work began on { $thing } with every handle before it on: only the controller or the contactor kept it dead.
rule-not-isolated-why = A contactor closes by itself when the controller calls, and its contacts weld. Only an open handle, locked, holds a circuit off.
rule-live-in-reach-what = Hands worked in { $thing } with { $part } live and bare beside them, { $reason }.
rule-live-in-reach-why = Hand and tool slip by a few centimetres; what cannot be switched off is covered first. { $arc }
rule-dress-what = { $how } in { $thing } { $reason }.
rule-dress-why = Insulating gloves keep current out of the hand, the shield keeps an arc off the face. Both stay on until the place is proved dead.
rule-ring-what = A metal ring was on the finger at live parts in { $thing }.
rule-ring-why = A ring bridges two conductors with the finger in it and welds fast. It comes off before live work.
rule-no-lock-what = The handle { $thing } was off without a lock while hands were in: { $reason }.
rule-no-lock-why = Others may want it on again. Your own lock is the only thing that stops them.
rule-no-tag-what = The lock on { $thing } had no notice.
rule-no-tag-why = A notice says who works there and why, so that nobody cuts the lock.
rule-re-energised-what = Somebody put { $thing } back on while { $box } was open.
rule-re-energised-why = Nothing held it off. With a lock it would have stayed off.
rule-energised-open-what = { $thing } was energised with its cover off after work in it.
rule-energised-open-why = New work is closed onto with the cover on, standing aside: if something was forgotten, the cover takes it.
rule-open-unattended-what = { $thing } was live while it stood open with nobody there.
rule-open-unattended-why = Live parts must be guarded against anybody who comes by.
rule-lock-off-early-what = The lock came off { $thing } while { $box } was still open after work.
rule-lock-off-early-why = Tools, wires and people are checked and the cover is on before the lock comes off.
rule-reclosed-what = { $thing } had opened by itself and was closed again: { $reason }.
rule-reclosed-why = A breaker that opens by a fault may close onto it. After a plain overload, shown by a look at the circuit, closing it is right.
rule-outage-what = { $thing } was switched off { $reason }.
rule-outage-why = Everything else on the board drops with it: work half through, an alarm, the lights over somebody's hands.
rule-main-unsaid-what = { $thing } did not go on again, and nobody had said beforehand that it might not.
rule-main-unsaid-why = A breaker not worked for decades may stay open. Said first, the owner decides; said afterwards, the house is without light by your hand.
rule-restore-order-what = { $thing } was closed while { $handle } before it stood open.
rule-restore-order-why = Power goes on from the supply towards the load, and the load last: main, breaker, isolator, controller. Then whatever is wrong shows one step at a time, and no switch takes everything at once.
rule-directory-wrong-what = The directory of { $thing } is left saying what is not so, at { $names }.
rule-directory-wrong-why = The next one switches off what it says and puts hands in.
rule-dead-test-live-what = An instrument for dead equipment was laid across { $volts }, { $a } to { $b }.
rule-dead-test-live-why = Ohms, milliohms and insulation are measured dead and proved dead. Across a voltage a rated meter shows nonsense, a test set blows, and the hands are where nothing was proved.
rule-electronics-tested-what = { $thing } was left connected when insulation was tested at { $volts }.
rule-electronics-tested-why = Surge parts and electronics do not stand the test voltage: the reading is wrong and the controller is gone. Disconnect controller, transformer and surge parts first, or test at 250 V where they cannot be.
rule-meter-misuse-what = The multimeter was on millivolts across { $volts }, { $a } to { $b }.
rule-meter-misuse-why = The sensitive range is for the drop along one conductor. Across two it blows the fuse at best.
rule-thermometer-live-what = The metal probe of the thermometer was put on { $thing } while that was live.
rule-thermometer-live-why = A contact probe goes on live insulation, or on metal that was dead when it was placed.
rule-hot-touch-what = A bare hand was on { $thing } at { $celsius }: { $outcome }.
rule-hot-touch-why = Metal burns skin within a second from about 65 °C and within ten from 55 °C, plastic from about 85 and 71 °C.
rule-gloves-untested-what = At live parts in { $thing } the gloves { $reason }.
rule-gloves-untested-why = A glove guards as long as it is whole. The date says when it last stood its test voltage, the air test finds the pinhole that came since.
rule-wet-floor-what = Hands were at live parts at { $thing } with a wet floor underfoot and no mat.
rule-wet-floor-why = Through wet soles the current goes from the hand to both feet, past the heart: two and a half times as much of it as from hand to hand.
rule-live-first-what = The first reading of all was taken on live metal in { $thing }.
rule-live-first-why = Ask, look, smell, and read what shows from outside first. Leads go on live metal for a question that nothing dead answers.
rule-screw-dropped-what = A screw of { $thing } fell onto { $part }, live. { $outcome }
rule-screw-dropped-why = Screws go into a dish, one by one, and the cover is held. { $arc }
rule-front-tipped-what = The dead front of { $thing } tipped onto { $part }, live, as its last screw came out. { $outcome }
rule-front-tipped-why = A dead front is held with one hand before its last screw comes out, and lifted off level. { $arc }
rule-bystander-what = Somebody of the house reached into { $thing }, open with nobody there, onto { $part }. { $outcome }
rule-bystander-why = An open box is covered, barred off or watched. Whoever comes by does not know what is live.
rule-tape-for-lock-what = { $thing } was held off by a strip of tape while hands were in.
rule-tape-for-lock-why = Tape tells and holds nobody. Your own lock is the only thing that stops them.
rule-plug-out-of-hand-what = The plug of { $thing } was out and you walked away from it, the box behind it open after work.
rule-plug-out-of-hand-why = A plug out is as good as a lock only as long as nobody else can put it in.
rule-load-on-what = { $thing } was opened under load, { $share } of what the circuit is made for.
rule-load-on-why = The load goes off first, by its own controller. A handle that parts current burns its contacts, and a plug draws an arc into the hand.
rule-not-warned-what = { $thing } was closed after work with nobody called clear.
rule-not-warned-why = Somebody may have a hand where you have not looked. A call costs half a minute.
rule-multimeter-proof-what = Dead was proved with a multimeter at { $thing }.
rule-multimeter-proof-why = A multimeter has ranges, fuses and sockets to be wrong with. A two-pole detector has none.
rule-ware-spoiled-what = Full power ran with forty glazed mugs in { $thing }: { $reason }.
rule-ware-spoiled-why = Full power follows no cone. Ware comes out first, cold enough to touch, and who pays for it is said before.

rule-will-burn-what = { $thing } is left with { $watts } of heat in it at { $amps }.
rule-will-burn-why = That takes the termination past what it is rated for. It will burn.
rule-will-return-what = { $thing } is left with { $watts } of heat in it at { $amps }.
rule-will-return-why = A sound joint makes a few tenths of a watt. This one will be back.
rule-torque-what = { $thing } is left at { $torque }, specified { $specified }: { $reason }.
rule-torque-why = Nobody can vouch for a screw off its value. It need not burn, but it must not be signed for.
rule-over-torque-what = { $thing } is left at { $torque }, specified { $specified }: { $reason }.
rule-over-torque-why = Past its value a screw cuts strands, strips its thread or cracks the case, and nothing shows it from outside.
rule-retorqued-sound-what = { $count ->
    [one] A sound joint was tightened in passing: { $names }.
   *[other] { $count } sound joints were tightened in passing: { $names }.
}
rule-retorqued-sound-why = What it was like as found can no longer be told, and strands that had settled are squeezed anew. A pull and a reading of the torque leave it as it is.
rule-earth-open-what = The protective conductor of { $thing } is left out of its clamp.
rule-earth-open-why = With the next fault the metal that people touch stands at full voltage, and nothing switches off.
rule-common-trip-lost-what = { $stock } in { $thing }: { $reason }.
rule-common-trip-lost-why = With one pole tripped the other leg keeps the appliance alive at full voltage to earth.
rule-unlisted-part-what = { $stock } in { $thing } is { $reason }.
rule-unlisted-part-why = It clicks in and carries current, but nobody has tried it on these stabs, at this fault current, under this cover.
rule-mixed-metals-what = { $thing } is left with { $size }, good for { $carries }, behind { $amps }: { $reason }.
rule-mixed-metals-why = Aluminium creeps under a screw made for copper and grows an oxide that does not conduct. Each change of load works it looser.
rule-termination-what = { $thing } is not made to specification: { $reason }.
rule-termination-why = Screw torque proves nothing where the conductor does not lie in the clamp as it should.
rule-damaged-left-what = { $thing } is left damaged: { $reason }.
rule-damaged-left-why = Burnt plating and dark copper make heat again whatever the torque, and a stripped thread holds nothing. Damaged parts are replaced.
rule-protection-lost-what = { $thing } is now a { $fitted } breaker where { $amps } is the most allowed.
rule-protection-lost-why = The conductor and the appliance are no longer protected. Tripping was the symptom, not the fault.
rule-wrong-part-what = { $stock } in { $thing } does not belong there: { $reason }.
rule-wrong-part-why = Rating, poles and listing are what the rest of the circuit was chosen by.
rule-pinhole-left-what = { $holes ->
    [one] A test pin's hole is left in the insulation at { $thing }.
   *[other] { $holes } holes of test pins are left in the insulation at { $thing }.
}
rule-pinhole-left-why = Insulation that was pierced is taped or cut away.
rule-open-space-what = In { $thing } these spaces are left open over the bus bars: { $spaces }.
rule-open-space-why = A finger or a dropped screw fits through.
rule-knockout-left-what = { $thing } was opened and shut again with an open knockout.
rule-knockout-left-why = Fingers, rodents and a dropped tool get in, an arc's hot gas gets out. The seal lies in the van.
rule-screw-missing-what = { $count ->
    [one] The cover of { $thing } lacks a screw.
   *[other] The cover of { $thing } lacks { $count } screws.
}
rule-screw-missing-why = A cover holds back an arc as well as a hand, by its last screw.
rule-lock-kit-left-what = The bracket for a padlock went with the old breaker; { $thing } has none now.
rule-lock-kit-left-why = Whoever works at the appliance next has nothing to hang his lock on.
rule-torque-unwritten-what = The torque of { $thing } came from the table, its label not being legible, and nothing was written down of it.
rule-torque-unwritten-why = A value without a maker's behind it is only as good as the note that says where it came from.
rule-conductor-left-what = { $thing } is left with { $size }, good for { $carries }, behind { $amps }: { $reason }.
rule-conductor-left-why = A conductor is chosen by the load that runs for hours and by the breaker that guards it, and by the appliance's plate.
rule-neutral-open-what = The neutral of { $thing } is left out of its clamp with the circuit in service.
rule-neutral-open-why = Loads then share the voltage between lines by their resistances: one gets too much and burns, and what counts as neutral stands at a voltage that kills.
rule-insulation-left-what = { $thing } is left in insulation that cannot stand the heat of its place.
rule-insulation-left-why = PVC softens at 70 °C and flows; beside a sauna heater a conductor in silicone or the like is asked for, by the heater's plate as well.
rule-welded-left-what = The pole of { $thing } is left welded: { $reason }.
rule-welded-left-why = One leg stays alive with the load switched off. Whoever trusts the controller touches it.
rule-cover-left-off-what = { $thing } is left with its cover off.
rule-cover-left-off-why = Live parts are left to the next person who comes by.
rule-left-able-to-run-what = The circuit is left unsafe at { $thing }: { $reason }.
rule-left-able-to-run-why = Made safe means off, locked and marked, so that it stays off until somebody has mended it.
rule-part-missing-what = { $thing } is taken out and nothing is in its place.
rule-part-missing-why = Its conductors hang loose and are live as soon as they are called for.
rule-loose-end-live-what = The bare end of { $thing } lies loose in a box with live parts, behind its cover.
rule-loose-end-live-why = It touches metal or the next who opens the box. Seen from outside everything is closed and in order.
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

# What a contact does to a body: the current in an average body and in the one of twenty that conducts best.
shock-none = Nothing was felt: insulation lay between the hand and the metal.
shock-felt = About { $milliamps } mA { $path }, { $most } mA in one person of twenty: felt, and a start.
shock-held = About { $milliamps } mA { $path }, { $most } mA in one person of twenty: above 10 mA the hand cannot let go.
shock-heart = About { $milliamps } mA { $path }, { $most } mA in one person of twenty: the hand cannot let go, and the heart may stop within a second.
path-hand-to-hand = from hand to hand
path-hand-to-feet = from the hand to both feet

# What heat does to skin.
burn-second = it burns within a second
burn-ten-seconds = it burns within ten seconds of work

# What an arc could be.
arc-cut-off-us = A dead short there draws up to { $prospective } and { $handle } cuts it off within 0.03 s: category 1 of the table for panelboards to 240 V, 4 cal/cm², half a metre away.
arc-cut-off-iec = A dead short there draws up to { $prospective } and { $handle } cuts it off within 0.03 s: short, but burnt copper all the same.
arc-not-cut-off = A dead short there draws up to { $prospective } and nothing on this site cuts it off: no table of clothing covers that.
bang-dressed = It burnt away with a bang and a flash; shield and gloves took it.
bang-bare = It burnt away with a bang and a flash, at arm's length from bare skin. The job ends here.

# Reasons inside the sentences above
reason-outage-unasked = without a word to the owner
reason-outage-early = before the time the owner had agreed to
reason-proof-no-test = no test was made
reason-proof-switched-on-since = it was switched on since the test
reason-proof-showed-live = the last test showed voltage
reason-proof-instrument = only a voltage pen was used
reason-proof-elsewhere = the tests were made somewhere else
reason-proof-pairs = not every pair was tested, leg to leg and each leg to earth
reason-proof-bus = its own terminals were tested, the bus bars it plugs on to were not
reason-proof-not-before = the tester was not shown good before
reason-proof-not-after = the tester was not shown good afterwards
reason-at-live = At live parts
reason-at-unproved = At parts not yet proved dead
reason-missing-visor = the face shield was missing
reason-missing-gloves = the gloves were missing
reason-missing-both = gloves and face shield were missing
reason-gloves-unchecked = had not been looked at: date and air test
reason-gloves-out-of-date = were past the date of their test
reason-gloves-holed = had a hole that an air test would have found
reason-lock-nothing = nothing held it
reason-lock-presence = standing before it is no lock
reason-ware-not-asked = nobody had asked what was inside
reason-ware-known = the owner had said so
reason-dressed = with gloves and face shield, though a handle would have made it dead
reason-bare = with no barrier, and not dressed for it
reason-reclosed-unseen = nobody had looked at the circuit
reason-reclosed-one-end = only one end of the circuit had been looked at
reason-left-loose = the conductor is out of its clamp
reason-strip-short = insulation sits in the clamp
reason-strip-long = bare copper stands outside the clamp
reason-strands-out = strands stand outside the clamp
reason-not-dressed = it was not dressed, and the conductor pulls at the clamp
reason-torque-none = not tightened
reason-torque-wrist = by wrist, without a torque tool
reason-torque-value = set to another value
reason-torque-as-set = at whatever the tool was set to
reason-torque-jumped-out = the bit jumped out before the click
reason-two-under-one = two conductors under a screw made for one
reason-strands-cut = strands under the screw are cut through
reason-aluminium-bare = aluminium without joint paste
reason-damaged-cracked = its moulding is cracked
reason-damaged-sanded = dark copper rubbed bright
reason-damaged-dark = dark copper in the clamp
reason-damaged-metal = burnt clamp
reason-damaged-thread = its thread is stripped
reason-damaged-part = browned or blistered part
reason-part-common-trip = the poles do not open together
reason-part-rating = rated too low for a continuous load
reason-part-coil = its coil is for another voltage, it never pulls in
reason-part-coil-low = its coil is for a lower voltage, it burns out
reason-part-curve = another magnetic characteristic, too slow for the earth fault loop it was made for
reason-conductor-small = too small for the circuit
reason-conductor-aluminium = aluminium in clamps made for copper
reason-welded = it does not open
reason-damaged-seat = burnt jaw or stab
reason-damaged-contact = burnt contacts
reason-part-not-listed = not listed for this place
reason-left-on = it is still on
reason-left-unlocked = no lock holds it off
reason-left-untagged = no notice says why
reason-own-lock = your own lock
reason-own-notice = your own notice
reason-standing-off = handle at off
reason-standing-tripped = handle tripped
reason-barrier = the barrier

rule-certificate-missing-what = What was altered was handed over without a certificate of verification.
rule-certificate-missing-why = It is tested and written down before the owner has it back.
