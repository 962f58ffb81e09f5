//! Tests of the equipment: the engine first, then what is built on it.

mod ageing;
mod breakers;
mod chance;
mod computed_networks;
mod dryers;
mod dryers_healthy;
mod energy;
mod joints;
mod kiln_causes;
mod kiln_contacts;
mod kiln_kit;
mod kiln_room;
mod kiln_spaces;
mod lanes;
mod network_files;
mod phasors;
mod parts;
mod plant_invariants;
mod protection;
mod published;
mod reference_networks;
mod sauna;
mod sauna_healthy;
mod signs;
mod site_files;
mod site_ways;
