// SPDX-License-Identifier: Apache-2.0
#include "move_request.h"

#include "command.h"
#include "loamway/base/file.h"
#include "loamway/text/document_kind.h"

namespace loamway {
namespace {

constexpr std::size_t largest_move = std::size_t{1} << 20;

}  // namespace

MoveRequest move_request(const std::string& document, const MoveRequest& flags) {
    if (document.empty())
        return flags;
    const std::string text = read_text_file(document, largest_move);
    const Value value = parse_document(text, document, DocumentKind::move);
    return merge(read_move(value, document), flags);
}

std::vector<std::string> files_of(const MoveRequest& m) {
    std::vector<std::string> out;
    for (const auto& name :
         {m.region, m.machine, m.low_bed, m.rates, m.places, m.corrections, m.ledger, m.air_csv})
        if (name)
            out.push_back(*name);
    return out;
}

}  // namespace loamway
