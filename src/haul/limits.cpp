// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/limits.h"

#include <fmt/format.h>

#include <array>

#include "loamway/base/error.h"
#include "loamway/text/document_kind.h"
#include "loamway/text/table.h"

namespace loamway {
namespace {

constexpr double metres_per_inch = 0.0254;

// Words of the document, in the order of the enums.
const std::vector<std::string_view> what_words{"width",           "height",        "length",
                                               "kingpin_to_rear", "gross_mass",    "single_axle",
                                               "driving_axle",    "trailer_group", "driving_share"};
const std::vector<std::string_view> of_words{"any", "machine", "low-bed"};
const std::vector<std::string_view> seen_words{"extract", "memory", "practice", "assumption"};

std::size_t needed_word(Table& t, std::string_view key, const std::vector<std::string_view>& words) {
    const std::optional<std::size_t> index = t.word(key, words);
    if (!index)
        throw t.error_at(key, fmt::format("{} is missing", key));
    return *index;
}

LimitOf read_of(Table& t) {
    return static_cast<LimitOf>(t.word("of", of_words).value_or(0));
}

std::string read_source(Table& t, Seen& seen) {
    seen = static_cast<Seen>(needed_word(t, "seen", seen_words));
    std::string source = t.require_text("source");
    if (source.empty())
        throw t.error_at("source", "a limit without a source",
                         "name where it is published, or say that nobody did: \"none\"");
    return source;
}

bool is_length(LimitWhat w) {
    return w == LimitWhat::width || w == LimitWhat::height || w == LimitWhat::length ||
           w == LimitWhat::kingpin_to_rear;
}

void read_size(Table& t, PublishedLimit& l) {
    const auto one_of = [&t](std::string_view a, std::string_view b) {
        if (t.has(a) == t.has(b))
            throw t.error_at(a, fmt::format("give one of {} and {}", a, b));
        return t.has(a);
    };
    if (is_length(l.what)) {
        const Range metres{0.5, 100};
        l.length = one_of("max_m", "max_in")
                       ? Length::from_metres(t.require_number("max_m", metres))
                       : Length::from_metres(t.require_number("max_in", {20, 4000}) * metres_per_inch);
    } else if (l.what == LimitWhat::driving_share) {
        l.share = t.require_number("min_share", {0, 1});
    } else {
        l.mass = one_of("max_kg", "max_lb") ? Mass::from_kg(t.require_number("max_kg", {500, 500000}))
                                            : from_pounds(t.require_number("max_lb", {1000, 1000000}));
    }
}

PublishedLimit read_limit(Table& t) {
    PublishedLimit l;
    l.what = static_cast<LimitWhat>(needed_word(t, "what", what_words));
    l.of = read_of(t);
    read_size(t, l);
    const auto axles = [&t](std::string_view key) -> std::optional<int> {
        const auto n = t.integer(key, {1, 40});
        return n ? std::optional(static_cast<int>(*n)) : std::nullopt;
    };
    l.axles_from = axles("axles_from");
    l.axles_to = axles("axles_to");
    const auto spacing = [&t](std::string_view key) -> std::optional<Length> {
        const auto m = t.number(key, {0, 10});
        return m ? std::optional(Length::from_metres(*m)) : std::nullopt;
    };
    l.spacing_from = spacing("spacing_from_m");
    l.spacing_below = spacing("spacing_below_m");
    l.source = read_source(t, l.seen);
    t.finish();
    return l;
}

void read_bridge_formula(Table t, LimitsTable& out) {
    AxleGroupLimits b;
    b.tie = t.word("tie", {"down", "up"}).value_or(0) == 1 ? Tie::up : Tie::down;
    b.single_lb = t.integer("single_lb", {1000, 100000}).value_or(b.single_lb);
    b.tandem_lb = t.integer("tandem_lb", {1000, 100000}).value_or(b.tandem_lb);
    b.tandem_exception = t.boolean("tandem_exception").value_or(b.tandem_exception);
    out.bridge_source = t.require_text("source");
    t.finish();
    out.bridge_formula = b;
}

}  // namespace

std::string_view name_of(LimitWhat w) {
    constexpr std::array<std::string_view, 9> names{"width",
                                                    "height",
                                                    "length",
                                                    "kingpin to rear",
                                                    "gross mass",
                                                    "axle load",
                                                    "driving axle load",
                                                    "load of the trailer's axles",
                                                    "share on driving axles"};
    const auto i = static_cast<std::size_t>(w);
    if (i >= names.size())
        throw Error(ErrorKind::internal, "a limit without a name");
    return names[i];
}

std::string_view name_of(Seen s) {
    switch (s) {
        case Seen::extract:
            return "seen in extract";
        case Seen::memory:
            return "from memory";
        case Seen::practice:
            return "common practice, no source";
        case Seen::assumption:
            return "assumption";
    }
    throw Error(ErrorKind::internal, "a way of seeing without a name");
}

LimitsTable read_limits_table(const Value& document, const std::string& file) {
    require_kind(document, file, DocumentKind::limits);
    Table t(document, file);
    LimitsTable out;
    out.name = t.require_text("name");
    out.title = t.require_text("title");
    out.securing = static_cast<SecuringRules>(t.word("securing", {"both", "us", "en"}).value_or(0));
    for (Table& l : t.tables("limit"))
        out.limits.push_back(read_limit(l));
    if (auto bridge = t.table("bridge_formula"))
        read_bridge_formula(std::move(*bridge), out);
    for (Table& c : t.tables("checklist")) {
        ChecklistLine line;
        line.of = read_of(c);
        line.text = c.require_text("text");
        line.source = read_source(c, line.seen);
        c.finish();
        out.checklist.push_back(std::move(line));
    }
    t.finish();
    return out;
}

}  // namespace loamway
