// SPDX-License-Identifier: Apache-2.0
#include "api.h"

#include <array>
#include <string_view>
#include <vector>

#include "api_help.h"
#include "loamway/base/mapped_files.h"
#include "loamway/plan/inputs.h"

namespace loamway {

struct Api::Route {
    std::string_view path;     // below /api/1/
    std::string_view methods;  // as Allow lists them
    void (Api::*answer)(const HttpRequest&, Exchange&);
    bool below = false;  // a name may follow after "/"
};

const std::vector<Api::Route>& Api::routes() {
    static const std::vector<Route> all{{"region", "GET", &Api::region},
                                        {"places", "GET", &Api::places},
                                        {"machines", "GET", &Api::profiles},
                                        {"road", "GET", &Api::road},
                                        {"stop-places", "GET", &Api::stop_places},
                                        {"map.png", "GET, POST", &Api::map_picture},
                                        {"plan", "POST", &Api::plan},
                                        {"sheet", "POST", &Api::sheet},
                                        {"export", "POST", &Api::track},
                                        {"load", "POST", &Api::load},
                                        {"budget", "POST", &Api::budget},
                                        {"corrections", "GET, POST, DELETE", &Api::corrections, true},
                                        {"belts", "GET", &Api::belts, true},
                                        {"moves", "POST", &Api::moves},
                                        {"tiles", "GET", &Api::tile, true}};
    return all;
}

Api::Api(const Shelf& shelf)
    : m_shelf(shelf), m_stats(region_stats(shelf.region().view())), m_tiles(shelf.region().view()) {}

namespace {

/// Keeps back an answer out of files that were changed while it was made.
class CheckedExchange : public Exchange {
public:
    explicit CheckedExchange(Exchange& to) : m_to(to) {}
    void reply(HttpReply reply) override {
        require_mapped_unchanged();
        m_to.reply(std::move(reply));
    }
    void begin(std::string_view content_type) override { m_to.begin(content_type); }
    void write(std::string_view piece) override { m_to.write(piece); }
    void end() override { m_to.end(); }
    [[nodiscard]] bool gone() const override { return m_to.gone(); }

private:
    Exchange& m_to;
};

}  // namespace

void Api::answer(const HttpRequest& request, Exchange& exchange) {
    try {
        require_mapped_unchanged();
        CheckedExchange checked(exchange);
        dispatch(request, checked);
    } catch (const Error& e) {
        exchange.reply(error_reply(e));
    } catch (const Stopped&) {
        // Mostly nobody is there to read an answer. Who only ended his own sending looks the same from here.
        exchange.reply(error_reply(503, "stopped", "the connection was closed: the work was stopped",
                                   "keep it open until the answer is there"));
    }
}

void Api::dispatch(const HttpRequest& request, Exchange& exchange) {
    constexpr std::string_view root = "/api/1/";
    const std::string_view path = request.path;
    if (path.starts_with(root)) {
        const std::string_view rest = path.substr(root.size());
        for (const Route& r : routes()) {
            const bool here = rest == r.path;
            const bool below = r.below && rest.starts_with(r.path) && rest.size() > r.path.size() &&
                               rest[r.path.size()] == '/';
            if (!here && !below)
                continue;
            if (r.methods.find(request.method) == std::string_view::npos) {
                exchange.reply(method_not_allowed(r.methods));
                return;
            }
            (this->*r.answer)(request, exchange);
            return;
        }
    }
    throw Error(ErrorKind::not_found, "there is nothing at this path", "README lists what /api/1/ answers");
}

}  // namespace loamway
