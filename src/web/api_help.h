// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_API_HELP_H
#define LOAMWAY_SRC_WEB_API_HELP_H

// Small things every answer needs.

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "http.h"
#include "loamway/base/error.h"
#include "loamway/base/geo.h"
#include "loamway/plan/plan.h"
#include "loamway/text/value.h"

namespace loamway {

/// What messages call the body of a request.
constexpr const char* body_name = "request";

void reply_json(Exchange& exchange, const Value& value, int status = 200);

/// null for an empty text.
[[nodiscard]] Value text_or_null(const std::string& text);

/// The body as a table of keys. Input Error otherwise.
[[nodiscard]] Value body_of(const HttpRequest& request);

/// The member "plan" of a body. Strict, as a plan read from a file.
[[nodiscard]] Plan plan_of(const Value& body);

/// A parameter of the query as a number in a range; not there: nothing.
[[nodiscard]] std::optional<double> number_of(const HttpRequest& request, const std::string& name, double low,
                                              double high);
/// The point named by the parameters lat and lon.
[[nodiscard]] GeoPoint point_of(const HttpRequest& request);

/// "bbox=w,s,e,n" in degrees: south-west and north-east corner.
[[nodiscard]] std::pair<GeoPoint, GeoPoint> box_of(const HttpRequest& request);

/// The entry of `there` that the parameter names; `otherwise` when it is not there. Input Error that lists
/// them.
template <class T, std::size_t n>
[[nodiscard]] T choice_of(const HttpRequest& request, const std::string& name,
                          const std::array<std::pair<std::string_view, T>, n>& there,
                          std::string_view otherwise) {
    std::string_view word = request.parameter(name);
    if (word.empty())
        word = otherwise;
    std::string list;
    for (const auto& [known, value] : there) {
        if (known == word)
            return value;
        list += (list.empty() ? "" : ", ") + std::string(known);
    }
    throw Error(ErrorKind::input, name + " is not there", "one of " + list, {{}, {}, name});
}

/// A file to be saved under a plain name: letters, digits, "-" and "." of it stay.
void reply_file(Exchange& exchange, std::string bytes, std::string_view content_type, std::string_view name);

/// The content type of a file ending of ours.
[[nodiscard]] std::string_view type_of(std::string_view ending);

}  // namespace loamway

#endif
