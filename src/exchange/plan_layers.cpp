// SPDX-License-Identifier: Apache-2.0
#include "plan_layers.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "loamway/base/names.h"
#include "loamway/base/unit_words.h"
#include "loamway/plan/plan_words.h"
#include "planned_way.h"
#include "stop_names.h"
#include "way_stretches.h"

namespace loamway {

namespace {

FieldValue text(const std::string& s) {
    return s.empty() ? FieldValue() : FieldValue(printable(s));
}
FieldValue joined(const std::vector<std::string>& list) {
    return text(fmt::format("{}", fmt::join(list, "; ")));
}
FieldValue time(const std::optional<Instant>& t) {
    return t ? FieldValue(*t) : FieldValue();
}

class LayerMaker {
public:
    LayerMaker(const Plan& plan, const Option& option)
        : m_plan(plan), m_option(option), m_way(option), m_units(plan.units) {}

    std::vector<VectorLayer> make() { return {legs(), stops(), segments(), flags()}; }

private:
    [[nodiscard]] std::string in_units(const std::string& name) const {
        return fmt::format("{}_{}", name, m_units.long_unit());
    }
    [[nodiscard]] double length(double m) const { return std::round(m_units.long_units(m) * 1000) / 1000; }
    [[nodiscard]] std::string title(std::string_view what) const {
        return fmt::format("{} of {} to {}, {}", what, m_plan.move.from_name, m_plan.move.to_name,
                           option_name(m_option.id));
    }
    [[nodiscard]] std::vector<Line> lines(double from_m, double to_m) const {
        return cut_at_date_line(m_way.cut(from_m, to_m));
    }

    [[nodiscard]] VectorLayer legs() const {
        VectorLayer out{"legs", title("Legs"), ShapeKind::line, {}, {}};
        out.fields = {{"name", FieldKind::text},
                      {"option", FieldKind::text},
                      {"mode", FieldKind::text},
                      {"can_be_done", FieldKind::truth},
                      {in_units("length"), FieldKind::number},
                      {"depart", FieldKind::time},
                      {"arrive", FieldKind::time},
                      {"attribution", FieldKind::text}};
        double at = 0;
        for (const Leg& leg : m_option.legs) {
            const bool last = &leg == &m_option.legs.back();
            const double end = last ? m_way.length_m() : std::min(m_way.length_m(), at + leg.length_m);
            out.features.push_back(
                {lines(at, end),
                 {text(fmt::format("{} to {}", leg.from, leg.to)), text(m_option.id),
                  std::string(name_of(leg.mode)), m_option.feasible, length(end - at), time(m_way.leaves(at)),
                  time(m_way.arrives(end)), text(m_plan.region.attribution)}});
            at = end;
        }
        return out;
    }
    [[nodiscard]] VectorLayer stops() const {
        VectorLayer out{"stops", title("Stops"), ShapeKind::point, {}, {}};
        out.fields = {{"name", FieldKind::text},
                      {"number", FieldKind::whole},
                      {"kind", FieldKind::text},
                      {in_units("at"), FieldKind::number},
                      {in_units("since_stop"), FieldKind::number},
                      {in_units("since_relube"), FieldKind::number},
                      {"arrive", FieldKind::time},
                      {"leave", FieldKind::time},
                      {"wait_min", FieldKind::number},
                      {"side", FieldKind::text},
                      {"place", FieldKind::text},
                      {"how_to_find", FieldKind::text},
                      {"why", FieldKind::text},
                      {"to_do", FieldKind::text},
                      {"cautions", FieldKind::text}};
        double last = 0;
        std::int64_t number = 0;
        for (const PlanStop& s : m_option.stops) {
            ++number;
            out.features.push_back(
                {{{s.point}},
                 {text(fmt::format("{} {}", m_units.exact(s.at_m), stop_name(s.kind))), number, text(s.kind),
                  length(s.at_m), length(s.at_m - last), length(s.since_relube_m), time(s.arrive),
                  time(s.leave), std::round(s.wait_s / 6) / 10, text(s.side), text(s.place),
                  text(s.how_to_find), text(s.why), joined(s.to_do), joined(s.cautions)}});
            last = s.at_m;
        }
        return out;
    }
    [[nodiscard]] VectorLayer segments() const {
        VectorLayer out{"segments", title("Surfaces"), ShapeKind::line, {}, {}};
        out.fields = {{"name", FieldKind::text},
                      {"mode", FieldKind::text},
                      {"surface", FieldKind::text},
                      {"known", FieldKind::truth},
                      {in_units("from"), FieldKind::number},
                      {in_units("length"), FieldKind::number},
                      {"depart", FieldKind::time},
                      {"arrive", FieldKind::time}};
        for (const WayStretch& s : stretches_of(m_option, m_way.length_m())) {
            const bool has = s.surface != nullptr;
            const std::string surface = has ? std::string(name_of(s.surface->surface)) : std::string();
            out.features.push_back(
                {lines(s.from_m, s.to_m),
                 {text(has ? surface : std::string(name_of(s.leg->mode))), std::string(name_of(s.leg->mode)),
                  text(surface), has ? FieldValue(s.surface->known) : FieldValue(), length(s.from_m),
                  length(s.to_m - s.from_m), time(m_way.leaves(s.from_m)), time(m_way.arrives(s.to_m))}});
        }
        return out;
    }
    [[nodiscard]] VectorLayer flags() const {
        VectorLayer out{"flags", title("Flags"), ShapeKind::point, {}, {}};
        out.fields = {{"name", FieldKind::text},
                      {"kind", FieldKind::text},
                      {"severity", FieldKind::text},
                      {in_units("at"), FieldKind::number},
                      {"text", FieldKind::text},
                      {"osm_way", FieldKind::whole},
                      {in_units("last_turn_round"), FieldKind::number}};
        for (const Flag& f : m_option.flags) {
            std::vector<Line> where;
            if (f.point)
                where.push_back({*f.point});
            out.features.push_back(
                {std::move(where),
                 {text(f.kind), text(f.kind), std::string(name_of(f.severity)), opt_length(f.at_m),
                  text(f.text), f.osm_way ? FieldValue(*f.osm_way) : FieldValue(),
                  opt_length(f.last_turn_round_m)}});
        }
        return out;
    }
    [[nodiscard]] FieldValue opt_length(const std::optional<double>& m) const {
        return m ? FieldValue(length(*m)) : FieldValue();
    }

    const Plan& m_plan;
    const Option& m_option;
    PlannedWay m_way;
    UnitWords m_units;
};

}  // namespace

std::vector<VectorLayer> plan_layers(const Plan& plan, const Option& option) {
    return LayerMaker(plan, option).make();
}

}  // namespace loamway
