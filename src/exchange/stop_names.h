// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_EXCHANGE_STOP_NAMES_H
#define LOAMWAY_SRC_EXCHANGE_STOP_NAMES_H

// What a kind of stop is called on maps and in tables, in every format alike and as the sheets say it.

#include <array>
#include <string>
#include <string_view>

#include "loamway/base/names.h"

namespace loamway {

struct StopName {
    std::string_view kind;
    std::string_view name;
    std::string_view short_name;  // for the few letters of a navigator
};
constexpr std::array<StopName, 6> stop_names{{{"start", "powder before leaving", "start"},
                                              {"relube", "re-lube stop", "re-lube"},
                                              {"check", "check stop", "check"},
                                              {"cooling", "cooling stop", "cooling"},
                                              {"handover", "hand-over", "hand-over"},
                                              {"turn", "turn round", "turn round"}}};

inline std::string stop_name(const std::string& kind) {
    for (const StopName& n : stop_names)
        if (n.kind == kind)
            return std::string(n.name);
    return printable(kind) + " stop";
}
inline std::string short_stop_name(const std::string& kind) {
    for (const StopName& n : stop_names)
        if (n.kind == kind)
            return std::string(n.short_name);
    return printable(kind);
}

}  // namespace loamway

#endif
