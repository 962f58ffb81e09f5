# Kinds of things, and what a directory on a board's door says.

kind-board = distribution board
kind-enclosure = steel box
kind-breaker = breaker
kind-main = main breaker
kind-isolator = isolator
kind-block = terminal block
kind-contactor = contactor
kind-controller = controller
kind-bank = bank of elements
kind-bars = neutral and earth bars
kind-receptacle = receptacle with its plug
kind-motor = motor
kind-limiter = thermal cut-out
kind-fuse = fuses in their holder
kind-rcd = residual current device
kind-chamber = chamber
kind-port = termination
kind-run = cable or conduit
kind-core = conductor
kind-place = place

lay-emt = conductors in conduit
lay-flex = flexible cable
lay-open = open wires
lay-tails = element tails
lay-trunking = cable in trunking
lay-silicone = heat-resistant flexible cable
lay-nm-b = sheathed building cable
lay-cord = flexible cord

serves-kiln = kiln
serves-test-kiln = test kiln
serves-water-heater = water heater
serves-pug-mill = pug mill
serves-wheel-1 = wheel 1
serves-wheel-2 = wheel 2
serves-wheel-3 = wheel 3
serves-fan = fan
serves-lights-kiln-room = lights kiln room
serves-lights-studio = lights studio
serves-spare = spare
