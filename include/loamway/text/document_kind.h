// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TEXT_DOCUMENT_KIND_H
#define LOAMWAY_TEXT_DOCUMENT_KIND_H

// What a file seems to be, whatever its name says: by its first bytes, by its "schema", or by keys that one
// kind of document alone has. With it a wrong file is met with what it is and where it belongs, not with the
// first key that does not fit. A kind is a guess for messages: `unknown` when in doubt, and no document that
// can be read as what it is wanted for is refused for it. Pure functions.

#include <cstdint>
#include <string>
#include <string_view>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway {

enum class DocumentKind : std::uint8_t {
    unknown,
    // TOML or JSON
    move,
    machine,
    low_bed,
    rates,
    recipe,
    limits,
    jobs,
    season,
    // JSON
    plan,
    answer,  // of another command
    places,
    corrections,
    events,  // of a ledger
    // lines
    table,
    trip,
    extract,
    // what no text reader takes
    region,
    database,
    compressed,
    archive,
    picture,
    xml,
    binary,
};

struct SeenKind {
    DocumentKind kind = DocumentKind::unknown;
    std::string why;  // "it has [[machine]]"; empty where the bytes say it all
};

[[nodiscard]] SeenKind kind_of_document(const Value& document);
/// Of a file by its beginning (a few KiB); documents of TOML and JSON only when `text` is the whole of them.
[[nodiscard]] SeenKind kind_of_text(std::string_view text);
/// `unknown` when the file cannot be read.
[[nodiscard]] SeenKind kind_of_file(const std::string& path);

/// "this looks like a season (it has [[machine]]), but a machine profile is wanted (give it to `loamway
/// season`)"
[[nodiscard]] Error wrong_kind(const std::string& file, const SeenKind& seen, DocumentKind wanted);
/// That Error when the document is of another kind.
void require_kind(const Value& document, const std::string& file, DocumentKind wanted);
/// That Error when what was seen is a text or a known form of another kind; bytes that say nothing pass.
void require_kind(const SeenKind& seen, const std::string& file, DocumentKind wanted);

/// Reads TOML, or JSON when the text begins with a brace or the file is named so; plans, places and
/// corrections are JSON alone. Errors as of parse_toml and parse_json, or of a wrong kind.
[[nodiscard]] Value parse_document(std::string_view text, const std::string& file, DocumentKind wanted,
                                   TextLimits limits = {});

}  // namespace loamway

#endif
