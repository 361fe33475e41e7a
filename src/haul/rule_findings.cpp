// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/rule_findings.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/haul/load_words.h"

namespace loamway {
namespace {

constexpr std::string_view decides = "; the local code decides";

/// Axles that stand together, for limits of groups.
struct Group {
    std::string_view name;
    int axles = 0;
    Length spacing;
    Mass load;
    [[nodiscard]] Mass each() const { return load / axles; }
};

/// What a limit is compared with.
struct Measured {
    LimitOf of = LimitOf::machine;
    std::string_view who;  // "machine", "loaded low-bed"
    Length width, height, length, kingpin_to_rear;
    Mass mass;
    int axles = 0;
    std::vector<Group> plain, driven;
    Group trailer;
    double driving_share = 1;
};

std::string source_of(const PublishedLimit& l) {
    return l.source == "none" ? std::string(name_of(l.seen))
                              : fmt::format("{}, {}", l.source, name_of(l.seen));
}

class Comparison {
public:
    Comparison(const Measured& m, const Recipe& recipe) : m_measured(m), m_words(recipe.units) {}

    void limit(const PublishedLimit& l) {
        if (l.of != LimitOf::any && l.of != m_measured.of)
            return;
        switch (l.what) {
            case LimitWhat::width:
                return size("width", l, m_measured.width);
            case LimitWhat::height:
                return size("height", l, m_measured.height);
            case LimitWhat::length:
                return size("length", l, m_measured.length);
            case LimitWhat::kingpin_to_rear:
                return size("length", l, m_measured.kingpin_to_rear);
            case LimitWhat::gross_mass:
                if (holds_for(l, m_measured.axles, Length()))
                    mass("mass", l, m_measured.mass, m_measured.who);
                return;
            case LimitWhat::single_axle:
                return each_axle(l, m_measured.plain);
            case LimitWhat::driving_axle:
                return each_axle(l, m_measured.driven);
            case LimitWhat::trailer_group:
                if (m_measured.trailer.axles > 0 &&
                    holds_for(l, m_measured.trailer.axles, m_measured.trailer.spacing))
                    mass("axle", l, m_measured.trailer.load, m_measured.trailer.name);
                return;
            case LimitWhat::driving_share:
                return share(l);
        }
        throw Error(ErrorKind::internal, "a limit that nobody compares");
    }

    void bridge(const AxleGroupLimits& limits, const std::string& source, std::span<const AxleAt> axles) {
        const std::vector<AxleGroupFinding> groups = check_axle_groups(axles, limits);
        const auto over = std::count_if(groups.begin(), groups.end(), [](const auto& g) { return g.over(); });
        const std::optional<AxleGroupFinding> worst = tightest(groups);
        if (!worst)
            return;
        if (over == 0) {
            within("bridge formula over every axle group");
            return;
        }
        const LoadWords in_pounds("imperial");  // as the formula is published
        add("bridge_formula", Concern::check,
            fmt::format(
                "bridge formula: {} of {} groups of consecutive axles over; worst axles {} to {}, {} on "
                "{}, {} allowed ({})",
                over, groups.size(), worst->first + 1, worst->last + 1, in_pounds.mass(worst->load),
                m_words.size(worst->span), in_pounds.mass(worst->limit), source));
    }

    void threshold(const char* kind, Length from, std::string_view expects) {
        if (m_measured.width >= from)
            add(kind, Concern::check,
                fmt::format("{} width {}: from {} on this region's recipe expects {}", m_measured.who,
                            m_words.size(m_measured.width), m_words.size(from), expects));
    }

    void line(const ChecklistLine& c) {
        if (c.of == LimitOf::any || c.of == m_measured.of)
            add("marking", Concern::note,
                fmt::format("{} ({})", c.text,
                            c.source == "none" ? std::string(name_of(c.seen))
                                               : fmt::format("{}, {}", c.source, name_of(c.seen))));
    }

    std::vector<Finding> take(const LimitsTable* table) {
        std::stable_sort(m_out.begin(), m_out.end(),
                         [](const Finding& a, const Finding& b) { return a.concern > b.concern; });
        if (table != nullptr && !m_within.empty())
            add("within", Concern::note,
                fmt::format("{} compared with {}: not above it in {}", m_measured.who, table->title,
                            fmt::join(m_within, ", ")));
        return std::move(m_out);
    }

private:
    static bool holds_for(const PublishedLimit& l, int axles, Length spacing) {
        return (!l.axles_from || axles >= *l.axles_from) && (!l.axles_to || axles <= *l.axles_to) &&
               (!l.spacing_from || spacing >= *l.spacing_from) &&
               (!l.spacing_below || spacing < *l.spacing_below);
    }
    void add(std::string kind, Concern concern, std::string text) {
        m_out.push_back({std::move(kind), concern, text.append(decides)});
    }
    void within(std::string_view what) {
        if (std::find(m_within.begin(), m_within.end(), what) == m_within.end())
            m_within.emplace_back(what);
    }
    void size(const char* kind, const PublishedLimit& l, Length there) {
        if (there == Length())
            return;
        // A tape reads centimetres: half a millimetre over is no finding.
        if (there.metres() <= l.length.metres() + 0.0005)
            return within(name_of(l.what));
        add(kind, Concern::check,
            fmt::format("{} {} {}, limit {} ({})", m_measured.who, name_of(l.what), m_words.size(there),
                        m_words.size(l.length), source_of(l)));
    }
    void mass(const char* kind, const PublishedLimit& l, Mass there, std::string_view who) {
        if (there.kg() <= l.mass.kg() + 0.5)
            return within(name_of(l.what));
        add(kind, Concern::check,
            fmt::format("{} {}, limit {} ({})", who, m_words.mass(there), m_words.mass(l.mass),
                        source_of(l)));
    }
    // Axles of a group carry alike: one finding a group, not one an axle.
    void each_axle(const PublishedLimit& l, const std::vector<Group>& groups) {
        for (const Group& g : groups) {
            if (!holds_for(l, g.axles, g.spacing))
                continue;
            if (g.each().kg() <= l.mass.kg() + 0.5)
                within(name_of(l.what));
            else
                add("axle", Concern::check,
                    fmt::format("{}: {} on each of {}, limit {} ({})", g.name, m_words.mass(g.each()),
                                g.axles, m_words.mass(l.mass), source_of(l)));
        }
    }
    void share(const PublishedLimit& l) {
        if (m_measured.driving_share >= l.share)
            return within(name_of(l.what));
        add("axle", Concern::check,
            fmt::format("{:.0f} % of the mass on driven axles, {:.0f} % at least ({})",
                        100 * m_measured.driving_share, 100 * l.share, source_of(l)));
    }

    const Measured& m_measured;
    LoadWords m_words;
    std::vector<Finding> m_out;
    std::vector<std::string> m_within;
};

std::vector<Finding> compare(const Measured& m, const LimitsTable* table, const Recipe& recipe,
                             std::span<const AxleAt> axles) {
    Comparison c(m, recipe);
    if (table != nullptr) {
        for (const PublishedLimit& l : table->limits)
            c.limit(l);
        if (table->bridge_formula && !axles.empty())
            c.bridge(*table->bridge_formula, table->bridge_source, axles);
    }
    c.threshold("permit", recipe.permit_from_width, "a permit");
    c.threshold("escort", recipe.escort_from_width, "an escort car, and one is priced");
    if (recipe.daylight_from_width)
        c.threshold("daylight", *recipe.daylight_from_width, "daylight or set hours");
    if (table != nullptr)
        for (const ChecklistLine& line : table->checklist)
            c.line(line);
    return c.take(table);
}

}  // namespace

std::string_view name_of(Concern c) {
    return c == Concern::note ? "note" : c == Concern::check ? "check" : "stop";
}

std::vector<Finding> machine_findings(const Machine& machine, const WorkingState& state,
                                      const LimitsTable* limits, const Recipe& recipe) {
    Measured m;
    m.of = LimitOf::machine;
    m.who = state.towed > Mass() ? "machine with what it tows" : "machine";
    m.width = state.width;
    m.height = state.height;
    m.length = state.combination_length();
    m.mass = state.combination_mass();
    m.axles = static_cast<int>(state.axles.size());
    for (std::size_t i = 0; i < state.axles.size(); ++i)
        m.plain.push_back({i < state.tracked.size() && state.tracked[i] ? "track axle" : "wheel axle", 1,
                           machine.wheelbase, state.axles[i]});
    return compare(m, limits, recipe, {});
}

std::vector<Finding> low_bed_findings(const LoadedLowBed& loaded, const LimitsTable* limits,
                                      const Recipe& recipe) {
    const TruckAxles& a = loaded.axles;
    Measured m;
    m.of = LimitOf::low_bed;
    m.who = "loaded low-bed";
    m.width = loaded.width;
    m.height = loaded.height;
    m.length = loaded.length;
    m.kingpin_to_rear = loaded.kingpin_to_rear;
    m.mass = loaded.mass;
    m.axles = 1 + a.drive_axles + a.trailer_axles;
    m.trailer = {"trailer axles together", a.trailer_axles, a.trailer_spacing, loaded.loads.trailer};
    m.plain = {{"steering axle", 1, Length(), loaded.loads.steer},
               {"trailer axle", a.trailer_axles, a.trailer_spacing, loaded.loads.trailer}};
    m.driven = {{"driving axle", a.drive_axles, a.drive_spacing, loaded.loads.drive}};
    m.driving_share = loaded.loads.drive / loaded.mass;
    return compare(m, limits, recipe, single_axles(a, loaded.loads));
}

}  // namespace loamway
