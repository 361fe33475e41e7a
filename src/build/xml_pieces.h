// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_XML_PIECES_H
#define LOAMWAY_SRC_BUILD_XML_PIECES_H

// Watches the text of an XML file go by, in parts of any size, and says when one piece of it is longer than
// any map has. An XML parser begins a tag, comment or word anew whenever more text comes, until it is whole:
// hundreds of megabytes of it would keep the parser busy for minutes. Nothing of the text is kept.

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace loamway {

class XmlPieces {
public:
    /// In bytes, the marks around it included. A value has at most 255 characters, and each node of a way and
    /// each member of a relation is a tag of its own: the longest real tag is some kilobytes.
    static constexpr std::size_t most = std::size_t{1} << 20;
    static constexpr std::string_view piece = "one tag or text";

    /// False when a piece is longer than that: a tag, a comment, the text between two tags, or all that
    /// stands before the first or after the last element. Of no use after that.
    [[nodiscard]] bool take(std::string_view text);
    /// Where the piece begins that take() is in; the first line is 1.
    [[nodiscard]] std::int64_t line() const { return m_line; }

private:
    enum class In : std::uint8_t { text, tag, comment, instruction, cdata };
    enum class Mark : std::uint8_t { start, end, other };

    void take(char c);
    void open();
    void take_in_tag(char c);
    void close();
    void begin_piece(std::size_t size);
    [[nodiscard]] bool outside() const { return m_depth == 0; }
    [[nodiscard]] bool ends_with(std::string_view end) const;

    In m_in = In::text;
    char m_quote = 0;          // what ends the quoted text it is in
    std::uint32_t m_last = 0;  // the last four bytes
    std::size_t m_size = 0;    // of the piece
    std::size_t m_mark = 0;    // bytes since the '<'
    Mark m_kind = Mark::other;
    std::int64_t m_depth = 0;  // elements open
    std::int64_t m_line = 1, m_lines = 1;
};

}  // namespace loamway

#endif
