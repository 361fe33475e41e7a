// SPDX-License-Identifier: Apache-2.0
// MoveRequest -> LoadingInputs.
#include <memory>

#include "ledger_desk.h"
#include "loamway/desk/loading.h"
#include "move_words.h"
#include "profile_files.h"

namespace loamway {
namespace {

bool is_slippery(const MoveRequest& r) {
    if (!r.ground)
        return false;
    (void)check_word(*r.ground, desk_words::grounds(), "ground");
    return *r.ground != "dry" && *r.ground != "dusty";
}

}  // namespace

LoadingInputs prepare_loading(const MoveRequest& r, const std::optional<std::string>& limits_file) {
    return prepare_loading(r, KeptOpen(), limits_file);
}

LoadingInputs prepare_loading(const MoveRequest& r, const KeptOpen& kept,
                              const std::optional<std::string>& limits_file) {
    if (!r.machine && !r.machine_table && !r.ledger)
        throw Error(ErrorKind::input, "the machine is missing",
                    "give --machine FILE.toml; examples/profiles has some to copy");
    LoadingInputs in;
    in.machine = LedgerDesk(r).machine();
    in.state = r.state.value_or("");
    (void)in.machine.state(in.state);
    in.low_bed =
        profile_or(r.low_bed_table, r.low_bed, DocumentKind::low_bed, place_of(r, "trailer"),
                   "name a low-bed profile, or leave it out for the assumed one", LowBed{}, read_low_bed);
    in.slippery = is_slippery(r);
    if (r.units)
        (void)check_word(*r.units, desk_words::units(), "units");
    if (limits_file)
        in.limits = read_limits_table(
            read_profile(*limits_file, DocumentKind::limits, "name a table of regions/limits"), *limits_file);
    if (r.region) {
        const auto region =
            kept.region ? kept.region : std::make_shared<const Region>(Region::open(*r.region));
        in.recipe = recipe_of(region->meta());
        if (!in.limits)
            in.limits = limits_of(region->meta());
    }
    if (r.units)
        in.recipe.units = *r.units;
    return in;
}

}  // namespace loamway
