// SPDX-License-Identifier: Apache-2.0
// The same marks the parser goes by, no more: what is no XML is found by the parser at its first wrong byte.
#include "xml_pieces.h"

namespace loamway {

bool XmlPieces::take(std::string_view text) {
    for (const char c : text) {
        take(c);
        if (m_size > most)
            return false;
    }
    return true;
}

void XmlPieces::take(char c) {
    m_last = (m_last << 8) | static_cast<unsigned char>(c);
    ++m_size;
    ++m_mark;
    if (c == '\n')
        ++m_lines;
    switch (m_in) {
        case In::text:
            // Outside the elements the parser takes quoted text for one word, whatever is in it.
            if (m_quote != 0)
                m_quote = c == m_quote ? '\0' : m_quote;
            else if (c == '<')
                open();
            else if (outside() && (c == '"' || c == '\''))
                m_quote = c;
            break;
        case In::tag:
            take_in_tag(c);
            break;
        case In::comment:
            if (m_mark >= 7 && ends_with("-->"))
                close();
            break;
        case In::instruction:
            if (m_mark >= 4 && ends_with("?>"))
                close();
            break;
        case In::cdata:
            if (ends_with("]]>"))
                close();
            break;
    }
}

void XmlPieces::open() {
    m_in = In::tag;
    m_mark = 1;
    m_kind = Mark::other;
    if (!outside())
        begin_piece(1);
}

void XmlPieces::take_in_tag(char c) {
    if (m_mark == 2) {
        if (c == '?')
            m_in = In::instruction;
        else if (c != '!')
            m_kind = c == '/' ? Mark::end : Mark::start;
        if (m_kind == Mark::start && outside())
            begin_piece(2);  // the first element: what stood before it was one piece
        return;
    }
    if (m_quote != 0) {
        m_quote = c == m_quote ? '\0' : m_quote;
    } else if (c == '"' || c == '\'') {
        m_quote = c;
    } else if (c == '<') {
        open();  // inside the brackets of a document type
    } else if (m_mark == 4 && ends_with("<!--")) {
        m_in = In::comment;
    } else if (m_mark == 9 && ends_with("ATA[") && !outside()) {
        m_in = In::cdata;
    } else if (c == '>') {
        close();
    }
}

void XmlPieces::close() {
    if (m_size > most)
        return;  // take() says so
    if (m_in == In::tag && m_kind == Mark::start && !ends_with("/>"))
        ++m_depth;
    else if (m_in == In::tag && m_kind == Mark::end && m_depth > 0)
        --m_depth;
    const bool was_outside = outside() && m_kind == Mark::other;
    m_in = In::text;
    if (!was_outside)
        begin_piece(0);
}

void XmlPieces::begin_piece(std::size_t size) {
    m_size = size;
    m_line = m_lines;
}

bool XmlPieces::ends_with(std::string_view end) const {
    std::uint32_t last = 0, mask = 0;
    for (const char c : end) {
        last = (last << 8) | static_cast<unsigned char>(c);
        mask = (mask << 8) | 0xff;
    }
    return (m_last & mask) == last;
}

}  // namespace loamway
