// SPDX-License-Identifier: Apache-2.0
#include "loamway/text/value.h"

#include <fmt/format.h>

#include "loamway/base/error.h"

namespace loamway {

double Value::number() const {
    if (const auto* i = as_integer())
        return static_cast<double>(*i);
    if (const auto* d = as_double())
        return *d;
    throw Error(ErrorKind::internal, fmt::format("a number was taken from {}", type_name()));
}

const Value* Value::find(std::string_view key) const {
    const Object* object = as_object();
    if (object == nullptr)
        return nullptr;
    for (const auto& [name, value] : *object) {
        if (name == key)
            return &value;
    }
    return nullptr;
}

Value& Value::set(std::string key, Value v) {
    if (is_null())
        m_data = Object{};
    Object* object = as_object();
    if (object == nullptr)
        throw Error(ErrorKind::internal, fmt::format("key \"{}\" was set on {}", key, type_name()));
    if (find(key) != nullptr)
        throw Error(ErrorKind::internal, fmt::format("key \"{}\" was set twice", key));
    object->emplace_back(std::move(key), std::move(v));
    return *this;
}

std::string_view Value::type_name() const {
    if (is_null())
        return "null";
    if (as_bool() != nullptr)
        return "true or false";
    if (is_number())
        return "number";
    if (as_string() != nullptr)
        return "text";
    return as_array() != nullptr ? "list" : "table";
}

}  // namespace loamway
