// SPDX-License-Identifier: Apache-2.0
#include "loamway/plan/cautions.h"

#include <fmt/format.h>

namespace loamway {

namespace {

/// "both belts", "all 4 belts"
std::string all_belts(int belts) {
    return belts == 2 ? std::string("both belts") : fmt::format("all {} belts", belts);
}

}  // namespace

std::vector<std::string> standard_cautions(bool hauled) {
    std::vector<std::string> out{
        "Stop at once, off the road, at a smell of rubber, smoke, a rumble or vibration, or when tread bars are soft, bulging or torn.",
        "Stand on firm, level ground off the carriageway: not on a bend, crest, bridge, level crossing or gateway, nor on dry grass or stubble (hot rollers and exhausts start fires). Extinguisher at hand.",
        "At the belts: park brake on, implement down, engine off, key out. Never a hand, a tool or powder on a moving belt.",
        "Dry powder only (soil, clay granules, talc), on the inside of the belt: never grease, oil, diesel or soap. Glasses and dust mask. No powder while it rains: it turns to paste.",
        "Bars, guide lugs and rollers burn skin. A bar is hotter inside than it feels and may burst: face away, no water on it.",
        "Belts that are new, washed, through a ford or on frozen ground: powder first, then 15 minutes slowly. Before leaving check tension, alignment, packed mud and stones.",
        "Heat, wear and cost are estimates, not measurements, and no evidence of a belt's condition. The map may be wrong: what you see on the road counts; take an unknown surface as paved.",
        "Widths, weights, permits, escorts, lights, hours, and whether belts may use a road at all: the local code and the road authority decide. This plan settles none of it.",
        "The makers' manuals of machine, belts and low-bed override every number here.",
        "Lights, beacon and warning sign clean and working; triangle and vest in the cab. Never leave the machine with the engine running, on a slope or blocking a way.",
        "Wet leaves, ice, steep hills: long braking distances and sliding. Braking heat is not in the estimate."};
    if (hauled) {
        out.emplace_back(
            "Loading: firm, level ground, a spotter in sight, nobody beside the ramp, no steering on it, no powder before it. Every edge under a belt rounded or covered.");
        out.emplace_back(
            "On the low-bed: tie down as the manual says, no chain across a belt's edge; measure the height on the deck before leaving; look at the chains again after the first kilometres.");
    }
    return out;
}

std::vector<std::string> relube_steps(int belts) {
    return {
        "Off the carriageway, firm and level. Warning lights on, vest on",
        "Park brake on, implement down, engine off, key out",
        fmt::format("Dry powder on the inside of {}, as far as you can reach", all_belts(belts)),
        "Look at bars, guide lugs and rollers: cuts, stones, packed mud, one side hotter",
        "Everyone clear of the machine; roll on half a belt length",
        "Park brake on, engine off, key out again; powder the rest",
        "Everyone clear; note the trip meter; drive on",
    };
}

std::vector<std::string> check_steps(int belts) {
    return {
        "Off the carriageway, firm and level. Park brake on, engine off, key out",
        fmt::format("All {} belts: compare the heat of the guide lugs on both sides, hand near, not on",
                    belts),
        "Look for rubber dust, scuffed guide lugs, stones, packed mud, belt tension",
        "One side hotter: road crown, sun or steering come first; check again on a level road in the shade",
    };
}

std::vector<std::string> cooling_steps() {
    return {
        "Off the carriageway, firm and level, on bare ground or gravel, in the shade where there is some",
        "Park brake on, implement down, engine off, key out. Away from the belts: hot bars may burst",
        "Wait the whole time: creeping on does not cool. No water on hot rubber, no powder needed",
        "Look at bars, guide lugs and rollers without touching: soft, bulging or torn bars end the drive",
    };
}

}  // namespace loamway
