// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_DESK_SHELF_H
#define LOAMWAY_DESK_SHELF_H

// What a program that answers many moves keeps at hand: the open region, places, profiles, and where
// corrections and ledger are. Moves that come to it name machines and places or describe them; they never
// name files. Safe to use from several threads at once.

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/desk/desk.h"
#include "loamway/haul/loading_plan.h"

namespace loamway {

struct ShelfSetup {
    std::string region;                      // file
    std::optional<std::string> corrections;  // file; none: the one beside the region
    std::optional<std::string> places;       // file
    std::optional<std::string> ledger;       // file or address
    std::optional<std::string> profiles;     // folder of .toml files; none: the generic ones of the program
};

/// A profile that moves may name: of a machine, or of a low-bed.
struct ShelfProfile {
    std::string name;  // of the file, without its ending
    bool low_bed = false;
    Value document;
};

class Shelf {
public:
    /// Opens the region and reads places and profiles; every fault is an Error with its file.
    explicit Shelf(ShelfSetup setup);

    [[nodiscard]] const ShelfSetup& setup() const { return m_setup; }
    [[nodiscard]] const Region& region() const { return *m_kept.region; }
    [[nodiscard]] const std::vector<PlaceEntry>& places() const;
    [[nodiscard]] const std::vector<ShelfProfile>& profiles() const { return m_profiles; }

    /// A move as read_move reads it, with names in place of files: `machine` of the ledger or the profiles,
    /// `trailer` of the profiles, `rates` a table. A key that names a file (region, places, corrections,
    /// ledger, air_csv) is an input Error. `name` is what messages call the document.
    [[nodiscard]] MoveRequest read(const Value& document, const std::string& name) const;
    /// The two halves of that, for documents that hold moves among other keys (a list of jobs): names of
    /// profiles become the profiles ...
    [[nodiscard]] Value without_files(const Value& document, const std::string& name) const;
    /// ... and what was read from it gets this shelf's region, corrections, ledger, and the ledger's machine
    /// that the document names.
    [[nodiscard]] MoveRequest placed(MoveRequest request, const Value& document) const;
    [[nodiscard]] Prepared prepare(const MoveRequest& request, Instant at) const;
    [[nodiscard]] LoadingInputs prepare_loading(const MoveRequest& request) const;
    [[nodiscard]] const KeptOpen& kept() const { return m_kept; }

private:
    [[nodiscard]] bool knows_machine(const std::string& name) const;
    [[nodiscard]] const ShelfProfile* find(std::string_view name, bool low_bed) const;
    [[nodiscard]] Value profile_named(const Value& said, std::string_view key, bool low_bed,
                                      const std::string& document) const;

    ShelfSetup m_setup;
    KeptOpen m_kept;
    std::vector<ShelfProfile> m_profiles;
};

/// The profiles that come with the program: name and TOML text, in the order of their names.
[[nodiscard]] const std::vector<std::pair<std::string_view, std::string_view>>& generic_profiles();

}  // namespace loamway

#endif
