// SPDX-License-Identifier: Apache-2.0
// METIS orders one connected piece at a time: it was made for connected graphs of some size, and small pieces
// (a road network has hundreds of islands) are better ordered greedily.
#include <metis.h>

#include <limits>
#include <mutex>
#include <string>

#include "loamway/base/error.h"
#include "loamway/order/node_order.h"
#include "minimum_degree.h"

namespace loamway {

namespace {

constexpr idx_t seed = 20240711;
// How uneven the two sides of a separator may be, in thousandths: smaller separators are worth more here than
// even sides (measured on road networks).
constexpr idx_t unevenness = 200;

/// Nodes of each connected piece, pieces by their lowest node, nodes within a piece as a breadth-first search
/// meets them.
std::vector<std::vector<std::uint32_t>> connected_pieces(const PlainGraph& graph) {
    std::vector<std::vector<std::uint32_t>> pieces;
    std::vector<bool> seen(graph.node_count(), false);
    for (std::uint32_t start = 0; start < graph.node_count(); ++start) {
        if (seen[start])
            continue;
        seen[start] = true;
        std::vector<std::uint32_t> piece{start};
        for (std::size_t i = 0; i < piece.size(); ++i)
            for (const std::uint32_t h : graph.neighbours(piece[i]))
                if (!seen[h]) {
                    seen[h] = true;
                    piece.push_back(h);
                }
        pieces.push_back(std::move(piece));
    }
    return pieces;
}

/// Positions in the order, by index in `piece`. `local` gives the index of each node.
std::vector<idx_t> metis_order(const PlainGraph& graph, const std::vector<std::uint32_t>& piece,
                               const std::vector<std::uint32_t>& local) {
    auto nodes = static_cast<idx_t>(piece.size());
    std::vector<idx_t> first{0}, head;
    first.reserve(piece.size() + 1);
    for (const std::uint32_t n : piece) {
        for (const std::uint32_t h : graph.neighbours(n))
            head.push_back(static_cast<idx_t>(local[h]));
        first.push_back(static_cast<idx_t>(head.size()));
    }
    idx_t options[METIS_NOPTIONS];
    METIS_SetDefaultOptions(options);
    options[METIS_OPTION_SEED] = seed;
    options[METIS_OPTION_UFACTOR] = unevenness;
    options[METIS_OPTION_NUMBERING] = 0;
    std::vector<idx_t> old_of_new(piece.size()), new_of_old(piece.size());
    static std::mutex one_at_a_time;  // std::rand()
    const std::lock_guard lock(one_at_a_time);
    const int status = METIS_NodeND(&nodes, first.data(), head.data(), nullptr, options, old_of_new.data(),
                                    new_of_old.data());
    if (status == METIS_ERROR_MEMORY)
        throw Error(ErrorKind::limit, "not enough memory to order the nodes of the region",
                    "build a smaller area");
    if (status != METIS_OK)
        throw Error(ErrorKind::internal,
                    "METIS failed to order the nodes of the region (status " + std::to_string(status) + ")");
    return new_of_old;
}

std::vector<std::uint32_t> small_order(const PlainGraph& graph, const std::vector<std::uint32_t>& piece,
                                       const std::vector<std::uint32_t>& local) {
    std::vector<std::uint64_t> bits(piece.size(), 0);
    for (std::size_t i = 0; i < piece.size(); ++i)
        for (const std::uint32_t h : graph.neighbours(piece[i]))
            bits[i] |= std::uint64_t{1} << local[h];
    return minimum_degree_order(bits);
}

}  // namespace

std::vector<std::uint32_t> nested_dissection(const PlainGraph& graph) {
    constexpr std::size_t most = std::numeric_limits<idx_t>::max();
    if (graph.node_count() >= most || graph.head.size() > most)
        throw Error(ErrorKind::limit, "the region has too many roads to be ordered", "build a smaller area");
    std::vector<std::uint32_t> order(graph.node_count());
    std::vector<std::uint32_t> local(graph.node_count());
    std::uint32_t placed = 0;
    for (const std::vector<std::uint32_t>& piece : connected_pieces(graph)) {
        for (std::uint32_t i = 0; i < piece.size(); ++i)
            local[piece[i]] = i;
        if (piece.size() <= minimum_degree_most) {
            for (const std::uint32_t i : small_order(graph, piece, local))
                order[piece[i]] = placed++;
            continue;
        }
        const std::vector<idx_t> positions = metis_order(graph, piece, local);
        for (std::size_t i = 0; i < piece.size(); ++i)
            order[piece[i]] = placed + static_cast<std::uint32_t>(positions[i]);
        placed += static_cast<std::uint32_t>(piece.size());
    }
    return order;
}

}  // namespace loamway
