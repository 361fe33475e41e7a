// SPDX-License-Identifier: Apache-2.0
// The map: vector tiles with what is corrected now.
#include <algorithm>
#include <charconv>

#include "api.h"
#include "api_help.h"
#include "loamway/desk/correction_book.h"
#include "loamway/graph/corrected_region.h"

namespace loamway {

namespace {

/// Digits up to `end`, which is taken off, too.
std::uint32_t take_number(std::string_view& rest, std::string_view end) {
    const std::size_t length = std::min(rest.find(end), rest.size());
    std::uint32_t out = 0;
    const auto [stopped, fault] = std::from_chars(rest.data(), rest.data() + length, out);
    if (fault != std::errc() || stopped != rest.data() + length || !rest.substr(length).starts_with(end))
        throw Error(ErrorKind::input, "a tile is named tiles/ZOOM/COLUMN/ROW.mvt");
    rest.remove_prefix(length + end.size());
    return out;
}

TileId tile_of(std::string_view path) {
    constexpr std::string_view root = "/api/1/tiles/";
    std::string_view rest = path.starts_with(root) ? path.substr(root.size()) : std::string_view();
    TileId out;
    const std::uint32_t zoom = take_number(rest, "/");
    out.z = zoom > deepest_zoom ? deepest_zoom + 1 : static_cast<int>(zoom);
    out.x = take_number(rest, "/");
    out.y = take_number(rest, ".mvt");
    if (!rest.empty())
        throw Error(ErrorKind::input, "a tile is named tiles/ZOOM/COLUMN/ROW.mvt");
    return out;
}

}  // namespace

void Api::tile(const HttpRequest& request, Exchange& exchange) {
    const TileId id = tile_of(request.path);
    const CorrectionBook book(m_shelf.setup().region, m_shelf.setup().corrections);
    std::string bytes;
    if (book.corrections().empty()) {
        bytes = m_tiles.make(nullptr, id);
    } else {
        const CorrectedRegion corrected(m_shelf.region(), book.corrections(), now());
        bytes = m_tiles.make(&corrected, id);
    }
    HttpReply reply{.status = bytes.empty() ? 204 : 200,
                    .content_type = "application/vnd.mapbox-vector-tile",
                    .body = std::move(bytes)};
    exchange.reply(std::move(reply));
}

}  // namespace loamway
