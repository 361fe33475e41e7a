// SPDX-License-Identifier: Apache-2.0
// Any bytes as comma-separated text: a table of the air, and a cell that a spreadsheet must not run.

#include <array>
#include <cmath>

#include "loamway/profile/weather.h"
#include "loamway/text/csv.h"
#include "target.h"

namespace {

using namespace loamway;

void air(std::string_view text) {
    Instant last{std::numeric_limits<std::int64_t>::min()};
    for (const AirRow& r : parse_air_csv(text, "air.csv", TimeZone())) {
        fuzz::promise(std::isfinite(r.air.celsius()) && (!r.cloud || (*r.cloud >= 0 && *r.cloud <= 1)),
                      "an air that cannot be");
        fuzz::promise(r.at > last, "rows of the air out of order");
        last = r.at;
    }
}

void rows(std::string_view text) {
    constexpr std::array<CsvColumn, 3> columns{{{"a", true}, {"b"}, {"c"}}};
    for (const CsvRow& r : read_csv(text, "rows.csv", columns, 100, "rows")) {
        fuzz::promise(r.text(0).has_value(), "a needed field is not there");
        const auto n = r.number(1, {-5, 5});
        fuzz::promise(!n || (*n >= -5 && *n <= 5), "a number out of its range");
    }
}

void cell(std::string_view text) {
    const std::string out = csv_cell(text);
    const bool quoted = out.starts_with('"');
    fuzz::promise(quoted || out.find_first_of(",\"\n\r") == std::string::npos, "a cell runs into the next");
    const std::string_view inside = std::string_view(out).substr(quoted ? 1 : 0);
    fuzz::promise(inside.empty() || std::string_view("=+-@").find(inside.front()) == std::string_view::npos,
                  "a cell that a spreadsheet would run");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = fuzz::text_of(data, size);
    fuzz::accepts([&] { air(text); });
    fuzz::accepts([&] { rows(text); });
    cell(text);
    return 0;
}
