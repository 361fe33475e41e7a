// SPDX-License-Identifier: Apache-2.0
// XML whose pieces are longer than any map's: refused before its parser sees it. A tag of 600 MB kept the
// parser busy for minutes.
#include "../../src/build/xml_pieces.h"

#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <osmium/io/any_compression.hpp>

#include "loamway/base/error.h"
#include "opl_map.h"
#include "write_extract.h"

namespace loamway::test {
namespace {

using testing::HasSubstr;

constexpr std::size_t most = XmlPieces::most;

bool passes(const std::string& text, std::size_t part) {
    XmlPieces pieces;
    for (std::size_t at = 0; at < text.size(); at += part)
        if (!pieces.take(std::string_view(text).substr(at, part)))
            return false;
    return true;
}

const std::string start = "<?xml version='1.0' encoding='UTF-8'?>\n<osm version=\"0.6\">\n";
const std::string end = "\n</osm>\n";

/// What is padded with x to so many bytes by adding them at the '@'.
std::string padded(std::string piece, std::size_t size) {
    const std::size_t at = piece.find('@');
    return piece.replace(at, 1, size - (piece.size() - 1), 'x');
}

struct Long {
    const char* name;
    std::string before, piece, after;
};

TEST(XmlPieces, ExactlyTheLimitPassesHoweverItIsCut) {
    const std::vector<Long> all{
        {"value", start, "<tag k='note' v=\"@\"/>", end},
        {"value with marks", start, "<tag k='a' v='<b> \"/> <!-- @'/>", end},
        {"name", start, "<@>", end},
        {"end", start, "</@>", end},
        {"comment", start, "<!-- > ' < \" -> <a> @-->", end},
        {"instruction", start, "<?a '> <a> @?>", end},
        {"cdata", start, "<![CDATA[don't > < <a> ]> @]]>", end},
        {"text", "<osm><a>", "isn't \" &@", "</a></osm>"},
        {"after an empty element", start + "<a b='/'/>", "it's @", "</osm>"},
        // Everything up to the first element is one piece: words here may hold any mark.
        {"first text", "", "@<", "osm></osm>"},
        {"first quotes", "", "'<a><b> @'<", "osm></osm>"},
        {"quotes in a type", "", "<!DOCTYPE a [ <!-- don't --> <!ELEMENT a ANY> \"<a><b>@\"<", "osm></osm>"},
        {"after the end", "<osm>\n<a>'</a>\n</osm>", "\n\"<a><a> @", ""}};
    for (const Long& l : all)
        for (const std::size_t part : {std::size_t{1} << 20, std::size_t{65537}, std::size_t{1}}) {
            EXPECT_TRUE(passes(l.before + padded(l.piece, most) + l.after, part)) << l.name << " " << part;
            EXPECT_FALSE(passes(l.before + padded(l.piece, most + 1) + l.after, part))
                << l.name << " " << part;
        }
}

TEST(XmlPieces, SaysWhereTheLongOneBegins) {
    XmlPieces pieces;
    EXPECT_FALSE(pieces.take(start + "<node\nid='1'/>\n<tag\nv='" + std::string(most, 'x')));
    EXPECT_EQ(pieces.line(), 5);
}

/// Writes the text as the name's ending says, in calls of one part.
std::string write_text(const TempDir& dir, const std::string& name, const std::string& text) {
    const auto form = name.ends_with(".gz")    ? osmium::io::file_compression::gzip
                      : name.ends_with(".bz2") ? osmium::io::file_compression::bzip2
                                               : osmium::io::file_compression::none;
    const int fd = ::open(dir.file(name).c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644);
    const auto out =
        osmium::io::CompressionFactory::instance().create_compressor(form, fd, osmium::io::fsync::no);
    out->write(text);
    out->close();
    return dir.file(name);
}

std::string what_is_said(const std::string& path) {
    try {
        (void)read_extract(path, {});
        return {};
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::limit) << e.what();
        EXPECT_EQ(e.place().file, path);
        EXPECT_FALSE(e.what_to_do().empty());
        return e.what();
    }
}

std::string map_with_a_value(std::size_t size) {
    return start +
           "<node id='1' version='1' lat='53.5' lon='13.2'/>\n"
           "<node id='2' version='1' lat='53.5' lon='13.3'/>\n"
           "<way id='1' version='1'><nd ref='1'/><nd ref='2'/><tag k='highway' v='track'/>" +
           "<tag k='note' v='" + std::string(size, 'x') + "'/></way>" + end;
}

TEST(XmlPieces, OfExtractsAreReadOrRefused) {
    const TempDir dir;
    for (const std::string name : {"m.osm", "m.osm.gz", "m.osm.bz2"}) {
        EXPECT_EQ(what_is_said(write_text(dir, name, map_with_a_value(255))), "") << name;
        const std::string said = what_is_said(write_text(dir, name, map_with_a_value(5 * most)));
        EXPECT_THAT(said, HasSubstr("one tag or text goes on for more than 1048576 bytes")) << name;
        EXPECT_THAT(said, HasSubstr(name + ":5")) << name;
    }
}

TEST(XmlPieces, TextOfTwoBytesALetterIsRefused) {
    const TempDir dir;
    std::string wide = "\xff\xfe";
    for (const char c : map_with_a_value(5))
        wide += {c, '\0'};
    for (const std::string& text : {wide, wide.substr(2)})
        try {
            (void)read_extract(write_text(dir, "m.osm", text), {});
            ADD_FAILURE() << "was read";
        } catch (const Error& e) {
            EXPECT_THAT(e.what(), HasSubstr("not in UTF-8"));
        }
}

// Each piece by itself is small. The middle is packed once: members and streams may follow each other.
TEST(XmlPieces, ThatUnpackToNoEndAreRefused) {
    const TempDir dir;
    std::string many;
    while (many.size() < (std::size_t{4} << 20))
        many += "<nd ref='1'/><nd ref='1'/><nd ref='1'/><nd ref='1'/>\n";
    for (const std::string name : {"m.osm.gz", "m.osm.bz2"}) {
        std::string packed = slurp(write_text(dir, name, start + "<way id='1' version='1'>"));
        const std::string middle = slurp(write_text(dir, name, many));
        for (int i = 0; i < 120; ++i)
            packed += middle;
        packed += slurp(write_text(dir, name, "</way>" + end));
        ASSERT_LT(packed.size(), std::size_t{2} << 20);
        EXPECT_THAT(what_is_said(dir.write(name, packed)), HasSubstr("unpacks to far more")) << name;
    }
}

}  // namespace
}  // namespace loamway::test
