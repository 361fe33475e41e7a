// SPDX-License-Identifier: Apache-2.0
#include "ledger_desk.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "move_words.h"
#include "profile_files.h"

namespace loamway {

namespace {

constexpr const char* profile_hint = "name a machine profile; examples/profiles has some to copy";

bool is_word(const std::string& belts) {
    const auto words = desk_words::belts();
    return std::find(words.begin(), words.end(), belts) != words.end();
}

bool among(const std::vector<std::string>& names, const std::string& name) {
    return std::find(names.begin(), names.end(), name) != names.end();
}

std::string near_words(const std::string& name, const std::vector<std::string>& known,
                       const std::string& otherwise) {
    const std::vector<std::string_view> views(known.begin(), known.end());
    const std::string near = nearest_name(name, views);
    return near.empty() ? otherwise : fmt::format("did you mean {}?", near);
}

}  // namespace

void check_belts_word(const MoveRequest& r) {
    if (!r.belts || is_word(*r.belts) || r.ledger)
        return;
    const auto words = desk_words::belts();
    const std::string near = nearest_name(*r.belts, words);
    throw Error(ErrorKind::input, fmt::format("belts \"{}\" is not known", printable(*r.belts)),
                near.empty() ? "one of new, run-in, washed, or a set's name with the ledger that knows it"
                             : fmt::format("did you mean {}?", near),
                place_of(r, "belts"));
}

std::string ledger_words(const MoveRequest& r, const std::optional<BeltRecord>& record) {
    const std::string place = printable(shown_ledger(*r.ledger));
    if (!record)
        return fmt::format("{}: no belts of it are on this machine then", place);
    return fmt::format("{}: {}, {:.1f} h, bars {:.1f} mm, {:.0f} % used", place, printable(record->belts),
                       record->hours, record->bar_mm.value, 100 * record->share_used.value);
}

LedgerDesk::LedgerDesk(const MoveRequest& request) : m_request(request) {
    check_belts_word(request);
    if (request.ledger)
        m_ledger = Ledger::open(*request.ledger, LedgerUse::read);
}

std::string LedgerDesk::machine_word() const {
    return m_request.machine_word.value_or(m_request.machine.value_or(""));
}

bool LedgerDesk::names_belts() const {
    return m_ledger && m_request.belts && !is_word(*m_request.belts);
}

bool LedgerDesk::knows_machine(const std::string& name) const {
    return m_ledger && !name.empty() && among(m_ledger->machine_names(), name);
}

/// Belts that are spoken of alone bring the machine that carries them now.
std::string LedgerDesk::machine_of_belts() const {
    if (!names_belts())
        return {};
    const std::string on = m_ledger->machine_of(*m_request.belts, {std::numeric_limits<std::int64_t>::max()});
    if (on.empty())
        throw Error(
            ErrorKind::input, fmt::format("belts \"{}\" are on no machine", printable(*m_request.belts)),
            "say which machine by --machine, or: loamway ledger belts fit", place_of(m_request, "belts"));
    return on;
}

Machine LedgerDesk::machine() const {
    const bool said = m_request.machine || m_request.machine_table;
    const std::string name = said ? machine_word() : machine_of_belts();
    if (!m_request.machine_table && knows_machine(name)) {
        const auto profile = m_ledger->profile(name);
        Machine out =
            read_machine(profile.value(), fmt::format("{}: {}", shown_ledger(*m_request.ledger), name));
        out.name = name;
        return out;
    }
    if (!said)
        throw Error(ErrorKind::input, "the machine is missing",
                    "give --machine FILE.toml; examples/profiles has some to copy");
    const std::string hint = m_ledger ? near_words(name, m_ledger->machine_names(),
                                                   "the ledger knows no machine of that name either")
                                      : profile_hint;
    return profile_or(m_request.machine_table, m_request.machine, DocumentKind::machine,
                      place_of(m_request, "machine"), hint, Machine{}, read_machine);
}

std::optional<BeltRecord> LedgerDesk::belts(Instant at) const {
    if (!m_ledger)
        return std::nullopt;
    std::string name;
    if (names_belts()) {
        name = *m_request.belts;
        const std::vector<std::string> known = m_ledger->belts_names();
        if (!among(known, name))
            throw Error(
                ErrorKind::not_found, fmt::format("the ledger knows no belts \"{}\"", printable(name)),
                near_words(name, known, "loamway ledger show lists them"), place_of(m_request, "belts"));
    } else if (!m_request.machine_table && knows_machine(machine_word())) {
        name = m_ledger->belts_on(machine_word(), at);
    }
    if (name.empty())
        return std::nullopt;
    return m_ledger->record(name, at);
}

}  // namespace loamway
