// SPDX-License-Identifier: Apache-2.0
#include "haul_rules.h"

#include <algorithm>
#include <string_view>

namespace loamway {
namespace {

Flag flag_of(const Finding& f) {
    Flag flag;
    flag.kind = f.kind;
    flag.severity = f.concern == Concern::stop    ? Severity::stop
                    : f.concern == Concern::check ? Severity::check
                                                  : Severity::note;
    flag.text = f.text;
    return flag;
}

const LimitsTable* limits_in(const PlanInputs& in) {
    return in.limits ? &*in.limits : nullptr;
}

// Its units are those of the sentences.
Recipe recipe_in(const PlanInputs& in) {
    Recipe recipe = in.recipe;
    recipe.units = in.units;
    return recipe;
}

}  // namespace

LoadingPlan loading_of(const Setting& setting) {
    const PlanInputs& in = setting.in();
    LoadingInputs loading;
    loading.machine = in.machine;
    loading.state = in.state;
    loading.low_bed = in.low_bed;
    loading.recipe = recipe_in(in);
    loading.limits = in.limits;
    const Ground g = in.conditions.ground;
    loading.slippery = g == Ground::moist || g == Ground::wet || g == Ground::frozen;
    return make_loading_plan(loading);
}

VehicleView loaded_vehicle(const LoadingPlan& p) {
    VehicleView v = p.low_bed.vehicle_loaded(p.state);
    v.width = p.loaded.width;
    v.height = p.loaded.height;
    v.length = p.loaded.length;
    v.mass = p.loaded.mass;
    if (p.place.possible) {
        const TruckAxles& a = p.low_bed.axles;
        v.axle = std::max({p.loaded.loads.steer, p.loaded.loads.drive / a.drive_axles,
                           p.loaded.loads.trailer / a.trailer_axles});
    }
    return v;
}

std::vector<Flag> loading_flags(const LoadingPlan& p) {
    std::vector<Flag> out;
    for (const Finding& f : p.findings) {
        if (f.kind == "within")
            continue;
        Flag flag = flag_of(f);
        if (p.low_bed.assumed && flag.severity == Severity::stop)
            flag.text = "the assumed low-bed will not do: " + flag.text;
        out.push_back(std::move(flag));
    }
    return out;
}

std::vector<Flag> machine_rule_flags(const Setting& setting) {
    // What speaks of the same width is one line on the sheet.
    constexpr std::string_view decides = "; the local code decides";
    std::vector<Flag> out;
    for (const Finding& f : machine_findings(setting.in().machine, setting.state(), limits_in(setting.in()),
                                             recipe_in(setting.in()))) {
        if (f.kind == "within")
            continue;
        const bool about_width = f.kind == "permit" || f.kind == "escort" || f.kind == "daylight";
        if (about_width && !out.empty() && out.front().kind == "width" &&
            out.front().text.ends_with(decides)) {
            std::string& text = out.front().text;
            const std::size_t from = f.text.find(": ");
            text.replace(text.size() - decides.size(), decides.size(),
                         "; " + f.text.substr(from == std::string::npos ? 0 : from + 2));
        } else {
            out.push_back(flag_of(f));
        }
    }
    return out;
}

std::vector<double> turn_off_places(const Setting& setting, const VehicleRoads& roads, const Path& path) {
    const RoadGraph& graph = setting.graph();
    std::vector<double> places;  // metres along the option, ascending
    for (std::size_t i = 0; i + 1 < path.pieces.size(); ++i) {
        const PathPiece& p = path.pieces[i];
        const ArcId in = p.piece.arc, next = path.pieces[i + 1].piece.arc;
        if (p.spur || path.pieces[i + 1].spur || in == next)
            continue;
        const NodeId n = graph.head(in);
        bool leaves = false;
        for (std::uint32_t a = graph.arc_begin(n); a < graph.arc_end(n) && !leaves; ++a)
            leaves = ArcId{a} != next && ArcId{a} != graph.twin(in) && roads.open(ArcId{a}) &&
                     !roads.ends_only(ArcId{a}) && roads.may_follow(in, ArcId{a});
        if (leaves)
            places.push_back(static_cast<double>(p.at_dm + p.piece.length_dm()) / 10.0);
    }
    return places;
}

}  // namespace loamway
