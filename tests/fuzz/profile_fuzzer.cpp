// SPDX-License-Identifier: Apache-2.0
// Any bytes as the TOML of a machine, a low-bed, rates, a recipe and a table of published limits: each is
// refused with an input Error, or read.

#include "loamway/haul/limits.h"
#include "loamway/profile/low_bed.h"
#include "loamway/profile/machine.h"
#include "loamway/profile/rates.h"
#include "loamway/profile/recipe.h"
#include "target.h"

namespace {

using namespace loamway;

void check_machine(const Machine& m) {
    fuzz::promise(!m.states.empty(), "a machine without a state");
    for (const WorkingState& s : m.states) {
        fuzz::promise(s.mass.kg() > 0 && s.combination_mass() >= s.mass, "a mass that cannot be");
        fuzz::promise(m.standing_length(s).metres() > 0, "a length that cannot be");
        static_cast<void>(m.vehicle(s));
    }
    for (const SurfaceClass c : {SurfaceClass::hard, SurfaceClass::gravel, SurfaceClass::earth})
        fuzz::promise(m.speed_on(c).mps() > 0, "a machine that stands still");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    Value document;
    if (!fuzz::accepts([&] { document = parse_toml(fuzz::text_of(data, size), "fuzz"); }))
        return 0;
    fuzz::accepts([&] { check_machine(read_machine(document, "fuzz")); });
    fuzz::accepts([&] { static_cast<void>(read_low_bed(document, "fuzz").vehicle_empty()); });
    fuzz::accepts([&] { static_cast<void>(read_rates(document, "fuzz").ownership_per_h()); });
    fuzz::accepts([&] { static_cast<void>(read_recipe(document, "fuzz")); });
    fuzz::accepts([&] { static_cast<void>(read_limits_table(document, "fuzz")); });
    return 0;
}
