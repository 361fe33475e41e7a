// SPDX-License-Identifier: Apache-2.0
// The region drawn by the server, for pages that cannot draw it themselves.
#include <optional>
#include <tuple>

#include "api.h"
#include "api_help.h"
#include "loamway/report/region_picture.h"
#include "loamway/text/table.h"

namespace loamway {

void Api::map_picture(const HttpRequest& request, Exchange& exchange) {
    constexpr double least = 64, most = 4096;
    RegionPictureSetup setup;
    std::tie(setup.south_west, setup.north_east) = box_of(request);
    setup.width = static_cast<int>(number_of(request, "width", least, most).value_or(setup.width));
    setup.height = static_cast<int>(number_of(request, "height", least, most).value_or(setup.height));
    setup.night = number_of(request, "night", 0, 1).value_or(0) > 0;
    setup.units = m_shelf.region().meta().units;
    std::optional<Plan> plan;
    if (request.method == "POST") {
        const Value body = body_of(request);
        plan = plan_of(body);
        setup.plan = &*plan;
        Table t(body, body_name);
        (void)t.value("plan");
        setup.option = t.text("option").value_or("");
    }
    exchange.reply({.content_type = "image/png", .body = draw_region_picture(m_shelf.region(), setup)});
}

}  // namespace loamway
