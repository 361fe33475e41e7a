// SPDX-License-Identifier: Apache-2.0
#include "address.h"

#include <fmt/format.h>

#include <optional>
#include <utility>

#include "loamway/base/error.h"
#include "loamway/base/percent.h"

namespace loamway {

namespace {

Error unreadable(const std::string& address, std::string what) {
    return {ErrorKind::input,
            std::move(what),
            "postgresql://USER@HOST:PORT/NAME",
            {without_password(address), {}, {}}};
}

std::string decoded(const std::string& address, const std::string& text) {
    std::optional<std::string> out = percent_decoded(text);
    if (!out || out->find('\0') != std::string::npos)
        throw unreadable(address, "a % in the address is not followed by two hexadecimal digits");
    return *std::move(out);
}

class ConnectionText {
public:
    explicit ConnectionText(const std::string& address) : m_address(address) {}
    void add(const std::string& key, const std::string& coded) {
        if (coded.empty())
            return;
        std::string quoted;
        for (const char c : decoded(m_address, coded)) {
            if (c == '\'' || c == '\\')
                quoted += '\\';
            quoted += c;
        }
        m_text += fmt::format("{}{}='{}'", m_text.empty() ? "" : " ", key, quoted);
    }
    [[nodiscard]] const std::string& text() const { return m_text; }

private:
    const std::string& m_address;
    std::string m_text;
};

/// Cuts what comes before (or after) the separator off `rest`; empty when there is none.
std::string take_before(std::string& rest, char separator) {
    const std::size_t at = rest.find(separator);
    if (at == std::string::npos)
        return {};
    std::string out = rest.substr(0, at);
    rest.erase(0, at + 1);
    return out;
}
std::string take_after(std::string& rest, char separator) {
    const std::size_t at = rest.rfind(separator);
    if (at == std::string::npos)
        return {};
    std::string out = rest.substr(at + 1);
    rest.erase(at);
    return out;
}

}  // namespace

bool is_address(const std::string& where) {
    return where.starts_with("postgresql://") || where.starts_with("postgres://");
}

std::string without_password(const std::string& where) {
    if (!is_address(where))
        return where;
    const std::size_t begin = where.find("://") + 3;
    const std::size_t at = where.find('@', begin);
    const std::size_t colon = where.find(':', begin);
    const std::string told = at == std::string::npos || colon == std::string::npos || colon > at
                                 ? where
                                 : where.substr(0, colon) + where.substr(at);
    // A password may stand among the parameters too.
    return told.substr(0, told.find('?'));
}

std::string connection_text(const std::string& address) {
    std::string rest = address.substr(address.find("://") + 3);
    ConnectionText out(address);
    std::string parameters;
    if (const std::size_t at = rest.find('?'); at != std::string::npos) {
        parameters = rest.substr(at + 1);
        rest.erase(at);
    }
    std::string name;
    if (const std::size_t at = rest.find('/'); at != std::string::npos) {
        name = rest.substr(at + 1);
        rest.erase(at);
    }
    std::string user = take_before(rest, '@');
    const std::string password = take_after(user, ':');
    const bool bracketed = rest.starts_with('[');  // [::1] holds colons of its own
    const std::string port = bracketed && rest.ends_with(']') ? std::string() : take_after(rest, ':');
    if (bracketed)
        rest = rest.substr(1, rest.find(']') - 1);
    out.add("user", user);
    out.add("password", password);
    out.add("host", rest);
    out.add("port", port);
    out.add("dbname", name);
    while (!parameters.empty()) {
        std::string one = take_before(parameters, '&');
        if (one.empty()) {
            one = parameters;
            parameters.clear();
        }
        std::string value = one;
        const std::string key = take_before(value, '=');
        if (key.empty() || key.find_first_not_of("abcdefghijklmnopqrstuvwxyz_") != std::string::npos)
            throw unreadable(address, "a parameter of the address is not key=value");
        out.add(key, value);
    }
    return out.text();
}

}  // namespace loamway
