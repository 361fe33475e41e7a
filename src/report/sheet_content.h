// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_SHEET_CONTENT_H
#define LOAMWAY_SRC_REPORT_SHEET_CONTENT_H

// What a drawn sheet and an HTML sheet say: one option of a plan in the words and units of its reader,
// without any layout. Text is printable; figures are ready to print.

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "loamway/plan/plan.h"
#include "words.h"

namespace loamway {

struct SheetStop {
    const PlanStop* stop = nullptr;
    int number = 0;
    std::string title;         // "RE-LUBE STOP"
    std::string total;         // "13.7": trip meter, in long units
    std::string since_stop;    // since the last stop
    std::string since_powder;  // empty where it is not the reader's business
    std::string arrive, leave, wait;
    std::string side;  // "LEFT", "RIGHT" or empty
    std::string where, why;
    std::string steps;  // "A": letter of the list of steps; empty without steps
    std::vector<std::string> cautions;
    std::string geo;  // "geo:47.162170,-35.517902" (RFC 5870)
};

/// The same steps are told once, under a letter.
struct SheetSteps {
    std::string letter, title;
    std::vector<std::string> steps;
};

/// What happens along the way, in driving order.
struct SheetEvent {
    enum class Kind { turn, check, stop_flag, stop, arrive };
    Kind kind = Kind::turn;
    double at_m = 0;
    std::string at;  // "13.7"
    std::string text;
    int stop_number = 0;  // of a stop
};

struct SheetContent {
    const Plan* plan = nullptr;
    const Option* option = nullptr;
    std::shared_ptr<const Option> own_option{};  // where `option` is made for this sheet alone
    UnitWords units;
    bool imperial = false;
    std::string headline;  // "DRIVE IT", "HAUL IT", "DO NOT DRIVE"
    bool can_be_done = true;
    std::string sentence;                                    // the verdict's, or this option's own
    std::vector<std::string> hindrances;                     // why it cannot be done, what needs an answer
    std::vector<std::pair<std::string, std::string>> caps;   // "paved", "15"
    std::vector<std::pair<std::string, std::string>> facts;  // "From", "Nettle Farm yard"
    std::vector<std::pair<std::string, std::string>> heat;   // label and figure; empty when not driven
    bool at_the_belts = true;  // who reads it stands beside the belts at the stops
    std::vector<SheetStop> stops;
    std::vector<SheetSteps> steps;
    std::vector<SheetEvent> events;
    std::vector<std::pair<std::string, std::string>> narrow_points;  // of an escort: "12.4" and what is there
    std::vector<std::string> notes;                                  // flags without a place and mere notes
    std::vector<std::string> checks;                                 // before leaving
    std::vector<std::string> cautions;
    std::vector<std::string>
        planner;                     // how sure the verdict is and what is to be found out: not the driver's
    std::string from_name, to_name;  // printable
    std::string title, date, zone, leave, arrive, powder_every, map_words;
    double total_m = 0;

    explicit SheetContent(const Plan& p) : plan(&p), units(p.units), imperial(p.units == "imperial") {}
};

/// Both must outlive the content.
[[nodiscard]] SheetContent sheet_content_of(const Plan& plan, const Option& option);

}  // namespace loamway

#endif
