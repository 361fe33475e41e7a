// SPDX-License-Identifier: Apache-2.0
// The drawing library cannot say a document's language; readers for the blind need it.
#include <fmt/format.h>

#include <charconv>
#include <string>
#include <string_view>

#include "canvas_inside.h"
#include "loamway/base/error.h"

namespace loamway {

namespace {

[[noreturn]] void not_as_expected(std::string_view what) {
    throw Error(ErrorKind::internal,
                fmt::format("the PDF has no {}, so its language cannot be written", what),
                "report this with the version of the cairo library");
}

std::size_t number_at(std::string_view text, std::size_t from, std::string_view what) {
    while (from < text.size() && (text[from] == ' ' || text[from] == '\n' || text[from] == '\r'))
        ++from;
    std::size_t value = 0;
    const auto [end, error] = std::from_chars(text.data() + from, text.data() + text.size(), value);
    if (error != std::errc())
        not_as_expected(what);
    return value;
}

std::size_t number_after(std::string_view text, std::string_view key) {
    const std::size_t at = text.rfind(key);
    if (at == std::string_view::npos)
        not_as_expected(key);
    return number_at(text, at + key.size(), key);
}

/// The text of an object's dictionary without its brackets.
std::string_view dictionary_of(std::string_view pdf, std::size_t table, std::size_t object) {
    // "xref\n0 N\n", then twenty bytes an object.
    constexpr std::size_t entry_size = 20;
    const std::size_t first_line = pdf.find('\n', pdf.find('\n', table) + 1) + 1;
    const std::size_t offset = number_at(pdf, first_line + entry_size * object, "entry for the catalogue");
    const std::string head = fmt::format("{} 0 obj\n<<", object);
    const std::size_t end = pdf.find("endobj", offset);
    if (end == std::string_view::npos || pdf.substr(offset, head.size()) != head)
        not_as_expected("catalogue");
    const std::size_t close = pdf.rfind(">>", end);
    if (close == std::string_view::npos || close < offset + head.size())
        not_as_expected("catalogue");
    return pdf.substr(offset + head.size(), close - offset - head.size());
}

}  // namespace

std::string with_language(std::string pdf, const std::string& language) {
    const std::string_view text = pdf;
    const std::size_t trailer = text.rfind("trailer");
    if (trailer == std::string_view::npos)
        not_as_expected("trailer");
    const std::string_view tail = text.substr(trailer);
    const std::size_t root = number_after(tail, "/Root ");
    const std::size_t size = number_after(tail, "/Size ");
    const std::size_t info = number_after(tail, "/Info ");
    const std::size_t table = number_after(tail, "startxref");
    if (text.substr(table, 4) != "xref")
        not_as_expected("plain cross-reference table");
    const std::string_view catalogue = dictionary_of(text, table, root);
    const std::size_t at = pdf.size() + (pdf.back() == '\n' ? 0 : 1);
    const std::string update = fmt::format(
        "{} 0 obj\n<<{}   /Lang ({})\n   /ViewerPreferences << /DisplayDocTitle true >>\n>>\nendobj\n", root,
        catalogue, language);
    const std::string end = fmt::format(
        "xref\n{} 1\n{:010} 00000 n \ntrailer\n<< /Size {}\n   /Root {} 0 R\n   /Info {} 0 R\n   /Prev {}\n>>\n"
        "startxref\n{}\n%%EOF\n",
        root, at, size, root, info, table, at + update.size());
    if (pdf.back() != '\n')
        pdf += '\n';
    return pdf + update + end;
}

}  // namespace loamway
