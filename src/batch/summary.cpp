// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <array>

#include "loamway/batch/batch.h"
#include "loamway/plan/plan.h"
#include "loamway/text/csv.h"

namespace loamway {

namespace {

constexpr std::array<std::string_view, 19> columns{
    "id",        "option",   "mode",       "sentence",    "probability_cheapest",
    "length_m",  "hard_m",   "hard_low_m", "hard_high_m", "hauled_m",
    "stops",     "depart",   "duration_s", "cost",        "cost_low",
    "cost_high", "currency", "bar_high_c", "error"};

std::string text_of(const Value* v) {
    if (v == nullptr || v->is_null())
        return {};
    return v->as_string() != nullptr ? *v->as_string() : to_json(*v);
}

std::string member(const Value* object, std::string_view key) {
    return object == nullptr ? std::string() : text_of(object->find(key));
}

const Value* advised(const Value& plan, const std::string& id) {
    if (const Value* options = plan.find("options"))
        for (const Value& o : *options->as_array())
            if (text_of(o.find("id")) == id)
                return &o;
    return nullptr;
}

std::string line_of(const std::array<std::string, columns.size()>& cells) {
    std::string out;
    for (std::size_t i = 0; i < cells.size(); ++i)
        out += (i == 0 ? "" : ",") + csv_cell(cells[i]);
    return out + "\n";
}

}  // namespace

std::string summary_header() {
    std::array<std::string, columns.size()> cells;
    for (std::size_t i = 0; i < columns.size(); ++i)
        cells[i] = columns[i];
    return line_of(cells);
}

std::string summary_row(std::string_view answer) {
    const Value record = parse_json(answer, "answer", {.bytes = std::size_t{256} << 20});
    std::array<std::string, columns.size()> c;
    c[0] = member(&record, "id");
    const Value* plan = record.find("plan");
    if (plan == nullptr) {
        c.back() = member(record.find("error"), "message");
        return line_of(c);
    }
    const Value* verdict = plan->find("verdict");
    c[1] = member(verdict, "option");
    c[2] = member(verdict, "mode");
    c[3] = member(verdict, "sentence");
    c[4] = member(verdict, "probability_cheapest");
    const Value* o = advised(*plan, c[1]);
    if (o == nullptr)
        return line_of(c);
    constexpr std::array<std::string_view, 5> lengths{"length_m", "hard_m", "hard_low_m", "hard_high_m",
                                                      "hauled_m"};
    for (std::size_t i = 0; i < lengths.size(); ++i)
        c[5 + i] = member(o, lengths[i]);
    if (const Value* stops = o->find("stops"); stops != nullptr && stops->as_array() != nullptr)
        c[10] = std::to_string(stops->as_array()->size());
    c[11] = member(o, "depart");
    c[12] = member(o, "duration_s");
    const Value* cost = o->find("cost");
    c[13] = member(cost, "total");
    c[14] = member(cost, "low");
    c[15] = member(cost, "high");
    c[16] = member(cost, "currency");
    c[17] = member(o->find("heat"), "bar_high_c");
    return line_of(c);
}

}  // namespace loamway
