// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_TURN_PRICES_H
#define LOAMWAY_SEARCH_TURN_PRICES_H

// What turning adds to the primary weight of a route: so much for going on from one arc to the next. A price
// is never negative, so that whatever bounds a search without prices bounds it with them too.
//
// A stretch of no length at either end of a move is not driven, and no turn joins it to the rest.

#include <cstdint>
#include <functional>
#include <utility>

#include "loamway/base/ids.h"

namespace loamway {

class TurnPrices {
public:
    /// `out` leaves the head of `in`; the twin of `in` stands for turning round. Must give the same answer
    /// for the same arcs each time, in any thread that searches with it.
    using Price = std::function<std::uint32_t(ArcId in, ArcId out)>;

    /// Every turn is free.
    TurnPrices() = default;
    explicit TurnPrices(Price price) : m_price(std::move(price)) {}

    [[nodiscard]] bool all_free() const { return !m_price; }
    [[nodiscard]] std::uint32_t operator()(ArcId in, ArcId out) const {
        return m_price ? m_price(in, out) : 0;
    }

private:
    Price m_price;
};

}  // namespace loamway

#endif
