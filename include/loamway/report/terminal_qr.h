// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REPORT_TERMINAL_QR_H
#define LOAMWAY_REPORT_TERMINAL_QR_H

// A QR code for a terminal.

#include <string>
#include <string_view>

namespace loamway {

/// Two modules one above the other in each character (half blocks), with the four modules of quiet zone the
/// code's standard asks for. Light modules are drawn and dark ones left empty, as terminals are dark; readers
/// of codes take both. Lines end in newlines. limit Error when the text is too long for a code.
[[nodiscard]] std::string terminal_qr(std::string_view content);

}  // namespace loamway

#endif
