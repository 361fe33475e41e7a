// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/terminal_qr.h"

#include <qrencode.h>

#include <array>
#include <memory>

#include "loamway/base/error.h"

namespace loamway {

std::string terminal_qr(std::string_view content) {
    const std::string text(content);
    const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
        QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_L), QRcode_free);
    if (!code)
        throw Error(ErrorKind::limit, "a text does not fit into a QR code", "shorten it");
    constexpr int quiet = 4;
    const int size = code->width + 2 * quiet;
    const auto light = [&](int row, int column) {
        const int r = row - quiet, c = column - quiet;
        const bool inside = r >= 0 && c >= 0 && r < code->width && c < code->width;
        return !inside || (code->data[r * code->width + c] & 1) == 0;
    };
    constexpr std::array<std::string_view, 4> blocks{" ", "\u2584", "\u2580", "\u2588"};
    std::string out;
    for (int row = 0; row < size; row += 2) {
        for (int column = 0; column < size; ++column) {
            const bool lower = row + 1 < size && light(row + 1, column);
            out += blocks[(light(row, column) ? 2u : 0u) + (lower ? 1u : 0u)];
        }
        out += '\n';
    }
    return out;
}

}  // namespace loamway
