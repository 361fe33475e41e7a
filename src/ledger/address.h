// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_LEDGER_ADDRESS_H
#define LOAMWAY_SRC_LEDGER_ADDRESS_H

// Addresses of PostgreSQL databases: postgresql://[user[:password]@][host][:port][/name][?key=value&...], as
// the server's own tools take them.

#include <string>

namespace loamway {

[[nodiscard]] bool is_address(const std::string& where);

/// The address for messages.
[[nodiscard]] std::string without_password(const std::string& where);

/// The same as "key='value' ..." for the library, which cannot read addresses. Input Error for one it cannot
/// be made of.
[[nodiscard]] std::string connection_text(const std::string& address);

}  // namespace loamway

#endif
