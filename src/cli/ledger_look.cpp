// SPDX-License-Identifier: Apache-2.0
// Verbs of `loamway ledger` that write what was seen on belts: readings and heights.
#include <fmt/format.h>

#include <algorithm>

#include "command.h"
#include "console.h"
#include "ledger_verbs.h"
#include "loamway/base/names.h"
#include "loamway/ledger/belt_report.h"
#include "loamway/ledger/plausible.h"

namespace loamway {

namespace {

std::vector<double> numbers_of(const std::vector<std::string>& said) {
    std::vector<double> out;
    for (const std::string& one : said)
        out.push_back(flag_number("--mm", one, "millimetres"));
    return out;
}

std::optional<BeltsAdded> set_named(const Ledger& ledger, const std::string& name) {
    const std::vector<std::string> known = ledger.belts_names();
    if (std::find(known.begin(), known.end(), name) == known.end())
        return std::nullopt;  // which the ledger says better when it is written to
    return ledger.record(name).added;
}

/// Heights with decimal commas come apart into twice as many: asked for when the pairs make heights.
std::string heights_meant(const BeltsAdded& set, const std::vector<std::string>& said) {
    const auto digits = [](const std::string& s) {
        return std::all_of(s.begin(), s.end(), [](char c) { return c >= '0' && c <= '9'; });
    };
    constexpr const char* otherwise =
        "leave a torn bar out and note it with: loamway ledger condition --chunking; decimals take a point";
    if (said.size() % 2 != 0 || !std::all_of(said.begin(), said.end(), digits))
        return otherwise;
    std::string joined;
    for (std::size_t i = 0; i < said.size(); i += 2)
        joined += fmt::format("{}{}.{}", i == 0 ? "" : ",", said[i], said[i + 1]);
    return implausible_heights(set, numbers_of(flag_list("--mm", joined))).empty()
               ? fmt::format("did you mean {}? decimals take a point, commas part the bars", joined)
               : otherwise;
}

/// Why what was just read settles nothing, as `show` says it.
std::vector<std::string> not_used(const Ledger& ledger, const std::string& belts, std::int64_t event) {
    const LedgerReport report = report_on_ledger(ledger, belts);
    std::vector<std::string> out;
    if (const auto& heat = report.belts.front().heat) {
        const std::string mine = fmt::format("event {}: ", event);
        for (const std::string& why : heat->refused)
            if (why.starts_with(mine))
                out.push_back(why.substr(mine.size()));
        out.insert(out.end(), heat->notes.begin(), heat->notes.end());
    }
    return out;
}

}  // namespace

int ledger_add_heights(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    Event e = with_belts(ledger, event_of(f, EventKind::heights), true);
    const std::vector<std::string> said = flag_list("--mm", f.heights);
    const std::vector<double> mm = numbers_of(said);
    if (const auto set = set_named(ledger, e.belts))
        if (const std::string why = implausible_heights(*set, mm); !why.empty())
            throw Error(ErrorKind::input, fmt::format("--mm {}: {}", printable(f.heights), why),
                        heights_meant(*set, said));
    e.data.set("mm", Value::Array(mm.begin(), mm.end()));
    const int status = report_written(f, e, ledger.write(e));
    if (mm.size() < 10 && !f.json)
        print("fewer than ten bars: the height is kept, but it teaches no wear rate\n");
    return status;
}

int ledger_add_reading(const LedgerFlags& f) {
    Ledger ledger = Ledger::open(ledger_of(f), LedgerUse::write);
    Event e = with_belts(ledger, event_of(f, EventKind::reading), true);
    if (e.machine.empty())
        e.machine = ledger.machine_of(e.belts, e.at);
    check_said(f, e);
    // A state that the machine does not have would make the reading useless later.
    if (const auto machine = machine_named(ledger, e.machine))
        (void)machine->state(read_reading_note(e.data, "the reading").state);
    const Written w = ledger.write(e);
    const std::vector<std::string> unused = not_used(ledger, e.belts, w.id);
    if (f.json) {
        print(to_json(Value(Value::Object{{"event", w.id},
                                          {"was_there", w.was_there},
                                          {"not_used", Value::Array(unused.begin(), unused.end())}})) +
              "\n");
        return 0;
    }
    const int status = report_written(f, e, w);
    for (const std::string& why : unused)
        print(fmt::format("noted, not used: {}\n", why));
    return status;
}

}  // namespace loamway
