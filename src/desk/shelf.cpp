// SPDX-License-Identifier: Apache-2.0
#include "loamway/desk/shelf.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <utility>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/desk/loading.h"
#include "loamway/ledger/ledger.h"
#include "profile_files.h"

namespace loamway {

namespace {

constexpr std::array<std::string_view, 4> file_keys{"region", "places", "corrections", "ledger"};
constexpr std::string_view at_hand = "the program that answers has these at hand";

ErrorPlace place_in(const std::string& document, const Value& v, std::string_view key) {
    return {document, v.line() > 0 ? std::optional(v.line()) : std::nullopt, std::string(key)};
}

bool describes_low_bed(const Value& document) {
    return document.find("state") == nullptr;
}

std::vector<ShelfProfile> generic() {
    std::vector<ShelfProfile> out;
    for (const auto& [name, text] : generic_profiles()) {
        Value document = parse_toml(text, std::string(name));
        const bool low_bed = describes_low_bed(document);
        out.push_back({std::string(name), low_bed, std::move(document)});
    }
    return out;
}

/// Every profile of the folder is read once, so that a fault shows when the program starts.
std::vector<ShelfProfile> profiles_in(const std::string& folder) {
    std::vector<ShelfProfile> out;
    std::error_code failed;
    for (const auto& entry : std::filesystem::directory_iterator(folder, failed)) {
        if (entry.path().extension() != ".toml")
            continue;
        const std::string file = entry.path().string();
        ShelfProfile p{entry.path().stem().string(), false, read_profile(file, DocumentKind::machine, {})};
        p.low_bed = describes_low_bed(p.document);
        if (p.low_bed)
            (void)read_low_bed(p.document, file);
        else
            (void)read_machine(p.document, file);
        out.push_back(std::move(p));
    }
    if (failed)
        throw Error(ErrorKind::io, fmt::format("cannot list the profiles: {}", failed.message()),
                    "name a folder with .toml files", {folder, {}, {}});
    if (out.empty())
        throw Error(ErrorKind::not_found, "the folder holds no profiles",
                    "put machine profiles there, name.toml each; examples/profiles has some to copy",
                    {folder, {}, {}});
    std::sort(out.begin(), out.end(), [](const auto& a, const auto& b) { return a.name < b.name; });
    return out;
}

void refuse_files(const Value& document, const std::string& name) {
    for (const std::string_view key : file_keys)
        if (const Value* v = document.find(key))
            throw Error(ErrorKind::input, fmt::format("{} cannot be named here", key), std::string(at_hand),
                        place_in(name, *v, key));
    if (const Value* conditions = document.find("conditions"))
        if (const Value* v = conditions->find("air_csv"))
            throw Error(ErrorKind::input, "air_csv cannot be named here",
                        "give air_c, or air_min_c and air_max_c", place_in(name, *v, "air_csv"));
    if (const Value* v = document.find("rates"); v != nullptr && v->as_string() != nullptr)
        throw Error(ErrorKind::input, "rates cannot be a file here", "write them as a table",
                    place_in(name, *v, "rates"));
}

}  // namespace

Shelf::Shelf(ShelfSetup setup) : m_setup(std::move(setup)) {
    m_profiles = m_setup.profiles ? profiles_in(*m_setup.profiles) : generic();
    m_kept.places = std::make_shared<const std::vector<PlaceEntry>>(
        m_setup.places ? read_places(*m_setup.places) : std::vector<PlaceEntry>());
    if (m_setup.ledger)
        (void)Ledger::open(*m_setup.ledger, LedgerUse::read);
    m_kept.region = std::make_shared<const Region>(Region::open(m_setup.region));
    m_kept.roads = std::make_shared<KeptRoads>(m_kept.region->view());
}

const std::vector<PlaceEntry>& Shelf::places() const {
    return *m_kept.places;
}

const ShelfProfile* Shelf::find(std::string_view name, bool low_bed) const {
    const auto found = std::find_if(m_profiles.begin(), m_profiles.end(), [&](const ShelfProfile& p) {
        return p.low_bed == low_bed && p.name == name;
    });
    return found == m_profiles.end() ? nullptr : &*found;
}

Value Shelf::profile_named(const Value& said, std::string_view key, bool low_bed,
                           const std::string& document) const {
    const std::string& name = *said.as_string();
    if (const ShelfProfile* p = find(name, low_bed))
        return p->document;
    std::vector<std::string_view> known;
    for (const ShelfProfile& p : m_profiles)
        if (p.low_bed == low_bed)
            known.emplace_back(p.name);
    const std::string near = nearest_name(name, known);
    std::string list;
    for (const std::string_view n : known)
        list += fmt::format("{}{}", list.empty() ? "" : ", ", n);
    throw Error(ErrorKind::not_found, fmt::format("there is no {} \"{}\"", key, printable(name)),
                near.empty() ? fmt::format("one of {}", list) : fmt::format("did you mean {}?", near),
                place_in(document, said, key));
}

Value Shelf::without_files(const Value& document, const std::string& name) const {
    if (document.as_object() == nullptr)
        throw Error(ErrorKind::input,
                    fmt::format("a move is a table of keys, not a {}", document.type_name()), {},
                    {name, {}, {}});
    refuse_files(document, name);
    Value out{Value::Object{}};
    out.set_line(document.line());
    for (const auto& [key, value] : *document.as_object()) {
        const bool machine = key == "machine";
        if ((!machine && key != "trailer") || value.as_string() == nullptr) {
            out.set(key, value);
            continue;
        }
        // A machine of the ledger keeps its name: its belts are looked up by it.
        if (machine && knows_machine(*value.as_string()))
            continue;
        Value table = profile_named(value, key, !machine, name);
        table.set_line(value.line());
        out.set(key, std::move(table));
    }
    return out;
}

bool Shelf::knows_machine(const std::string& name) const {
    if (!m_setup.ledger)
        return false;
    const std::vector<std::string> known = Ledger::open(*m_setup.ledger, LedgerUse::read).machine_names();
    return std::find(known.begin(), known.end(), name) != known.end();
}

MoveRequest Shelf::read(const Value& document, const std::string& name) const {
    return placed(read_move(without_files(document, name), name), document);
}

MoveRequest Shelf::placed(MoveRequest request, const Value& document) const {
    if (!request.machine_table)
        if (const Value* machine = document.find("machine"); machine && machine->as_string())
            request.machine = request.machine_word = *machine->as_string();
    request.region = m_setup.region;
    request.corrections = m_setup.corrections;
    request.ledger = m_setup.ledger;
    return request;
}

Prepared Shelf::prepare(const MoveRequest& request, Instant at) const {
    return loamway::prepare(request, m_kept, at);
}

LoadingInputs Shelf::prepare_loading(const MoveRequest& request) const {
    return loamway::prepare_loading(request, m_kept, std::nullopt);
}

}  // namespace loamway
