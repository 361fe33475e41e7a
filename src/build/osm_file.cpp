// SPDX-License-Identifier: Apache-2.0
#include "osm_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <memory>
#include <new>
#include <osmium/io/any_input.hpp>
#include <osmium/osm.hpp>
#include <stdexcept>
#include <system_error>
#include <utility>
#include <vector>

#include "bzip2_streams.h"
#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/text/document_kind.h"
#include "opl_lines.h"
#include "pbf_file.h"
#include "xml_pieces.h"

namespace loamway {

namespace {

constexpr std::string_view wanted_forms = ".osm, .osm.bz2, .osm.gz, .osm.pbf or .opl";

[[noreturn]] void fail(ErrorKind kind, const std::string& path, std::string what, std::string what_to_do,
                       std::optional<int> line = {}) {
    throw Error(kind, std::move(what), std::move(what_to_do), {path, line, {}});
}

[[noreturn]] void fail_damaged(const std::string& path, const std::string& detail) {
    fail(ErrorKind::damaged, path, "the extract is cut off or damaged: " + detail, "fetch it again");
}

[[noreturn]] void fail_form(const std::string& path, const std::string& detail,
                            std::optional<int> line = {}) {
    fail(ErrorKind::input, path, "this does not read as its name says: " + detail,
         fmt::format("give an OpenStreetMap extract named {}", wanted_forms), line);
}

[[noreturn]] void fail_system(const std::string& path, const std::error_code& code) {
    if (code == std::errc::no_such_file_or_directory)
        fail(ErrorKind::not_found, path, "no such file", "check the path");
    fail(ErrorKind::io, path, "cannot be read: " + code.message(), "check the permissions and the disk");
}

/// Of a regular file with something in it: anything else would be waited for, or read twice with two results.
std::uint64_t size_of_regular_file(const std::string& path) {
    struct stat info {};
    if (::stat(path.c_str(), &info) != 0)
        fail_system(path, std::error_code(errno, std::generic_category()));
    if (S_ISDIR(info.st_mode))
        fail(ErrorKind::input, path, "this is a folder", "give the extract in it");
    if (!S_ISREG(info.st_mode))
        fail(ErrorKind::input, path, "this is not a plain file", "save the extract to a file first");
    if (info.st_size == 0)
        fail(ErrorKind::input, path, "the file is empty", "fetch the extract again");
    return static_cast<std::uint64_t>(info.st_size);
}

bool is_plain(const osmium::io::File& file) {
    return file.compression() == osmium::io::file_compression::none;
}

osmium::io::File file_of_known_form(const std::string& path) {
    osmium::io::File file(path);
    using Form = osmium::io::file_format;
    if (file.has_multiple_object_versions())
        fail(ErrorKind::input, path, "this holds changes or a history, not a map at one time",
             "give a plain extract");
    if (file.format() != Form::xml && file.format() != Form::pbf && file.format() != Form::opl) {
        require_kind(kind_of_file(path), path, DocumentKind::extract);
        fail(ErrorKind::input, path, "the name does not say that this is an OpenStreetMap extract",
             fmt::format("name it {}", wanted_forms));
    }
    // Nothing would bound what comes out: packed blocks, packed once more.
    if (file.format() == Form::pbf && !is_plain(file))
        fail(ErrorKind::input, path, "PBF is packed by itself, and this is packed once more",
             "unpack it and give the .osm.pbf that comes out");
    if (file.compression() == osmium::io::file_compression::bzip2)
        file.set_compression(bzip2_streams());
    return file;
}

/// Expat's codes for input that ends too early: no element found, unclosed token, partial character,
/// unclosed CDATA section.
bool is_cut_xml(int code) {
    return code == 3 || code == 5 || code == 6 || code == 20;
}

bool speaks_of_the_end(std::string_view text) {
    return text.find("EOF") != std::string_view::npos || text.find("truncated") != std::string_view::npos;
}

/// To be called in a catch clause. What goes wrong after objects came is damage in a file of the right form;
/// before that it is most likely another form, unless the file just ends.
[[noreturn]] void rethrow_as_error(const std::string& path, bool objects_came) {
    try {
        throw;
    } catch (const Error&) {
        throw;
    } catch (const osmium::xml_error& e) {
        if (is_cut_xml(static_cast<int>(e.error_code)))
            fail_damaged(path, "the XML ends before its last element is closed");
        const bool has_line = e.line > 0;
        fail_form(path, e.error_string.empty() ? e.what() : e.error_string,
                  has_line ? std::optional(static_cast<int>(e.line)) : std::nullopt);
    } catch (const osmium::opl_error& e) {
        // The library counts lines from 0.
        fail_form(path, fmt::format("{}, column {}", e.what(), e.column + 1), static_cast<int>(e.line + 1));
    } catch (const osmium::gzip_error& e) {
        fail_damaged(path, e.what());
    } catch (const osmium::bzip2_error& e) {
        if (e.bzip2_error_code == BZ_DATA_ERROR_MAGIC)
            fail_form(path, "no bzip2 data");
        fail_damaged(path, e.what());
    } catch (const osmium::io_error& e) {
        if (objects_came || speaks_of_the_end(e.what()))
            fail_damaged(path, e.what());
        fail_form(path, e.what());
    } catch (const std::system_error& e) {
        fail_system(path, e.code());
    } catch (const std::bad_alloc&) {
        throw;
    } catch (const std::exception& e) {
        // protozero and the buffers have exception types of their own: bytes that do not fit.
        if (objects_came)
            fail_damaged(path, e.what());
        fail_form(path, e.what());
    }
}

std::optional<GeoPoint> point_of(const osmium::Location& location) {
    if (!location.valid())
        return std::nullopt;
    return GeoPoint{location.y(), location.x()};
}

/// Hands objects to the sink; its lists are reused from object to object.
class Dispatcher {
public:
    explicit Dispatcher(OsmSink& sink) : m_sink(sink) {}

    void take(const osmium::memory::Buffer& buffer) {
        for (const auto& object : buffer.select<osmium::OSMObject>())
            take(object);
    }
    [[nodiscard]] std::int64_t deleted() const { return m_deleted; }
    [[nodiscard]] osmium::Timestamp newest() const { return m_newest; }

private:
    void take(const osmium::OSMObject& object) {
        if (object.deleted()) {
            ++m_deleted;
            return;
        }
        m_newest = std::max(m_newest, object.timestamp());
        m_tags.clear();
        for (const osmium::Tag& tag : object.tags())
            m_tags.push_back({tag.key(), tag.value()});
        if (object.type() == osmium::item_type::node)
            m_sink.node(object.id(), point_of(static_cast<const osmium::Node&>(object).location()), m_tags);
        else if (object.type() == osmium::item_type::way)
            take_way(static_cast<const osmium::Way&>(object));
        else if (object.type() == osmium::item_type::relation)
            take_relation(static_cast<const osmium::Relation&>(object));
    }
    void take_way(const osmium::Way& way) {
        m_refs.clear();
        for (const osmium::NodeRef& node : way.nodes())
            m_refs.push_back(node.ref());
        m_sink.way(way.id(), m_refs, m_tags);
    }
    void take_relation(const osmium::Relation& relation) {
        m_members.clear();
        for (const osmium::RelationMember& member : relation.members())
            m_members.push_back({osmium::item_type_to_char(member.type()), member.ref(), member.role()});
        m_sink.relation(relation.id(), m_members, m_tags);
    }

    OsmSink& m_sink;
    std::vector<OsmTag> m_tags;
    std::vector<std::int64_t> m_refs;
    std::vector<OsmMember> m_members;
    std::int64_t m_deleted = 0;
    osmium::Timestamp m_newest;
};

// Only the library's own calls stand in try blocks: what a sink or a progress callback throws passes through.

using Decompressor = osmium::io::Decompressor;

/// The text of the file, unpacked by what the library's own reader uses.
std::unique_ptr<Decompressor> open_text(const osmium::io::File& file, const std::string& path) {
    const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NOCTTY);
    if (fd < 0)
        fail_system(path, std::error_code(errno, std::generic_category()));
    try {
        return osmium::io::CompressionFactory::instance().create_decompressor(file.compression(), fd);
    } catch (...) {
        rethrow_as_error(path, false);
    }
}

std::string read_text(Decompressor& from, const std::string& path) {
    try {
        return from.read();
    } catch (...) {
        rethrow_as_error(path, false);
    }
}

/// Marks of two bytes each would pass for something else.
bool is_utf16(std::string_view text) {
    using namespace std::string_view_literals;
    for (const std::string_view start : {"\xfe\xff"sv, "\xff\xfe"sv, "\0<"sv, "<\0"sv})
        if (text.starts_with(start))
            return true;
    return false;
}

/// Text that would keep its parser busy for hours or fill the memory, or unpacks to no end, is refused before
/// the parser sees it.
template <typename Pieces>
void check_text(const osmium::io::File& file, const std::string& path, std::uint64_t size,
                const std::function<void(double)>& progress) {
    std::atomic<std::size_t> offset = 0;
    const auto text = open_text(file, path);
    text->set_offset_ptr(&offset);
    std::uint64_t room = unpacked_room(size);
    Pieces pieces;
    std::string part = read_text(*text, path);
    if (is_utf16(part))
        fail_form(path, "it is not in UTF-8");
    for (; !part.empty(); part = read_text(*text, path)) {
        // The reader of lines would take it for the end of its line and drop the rest.
        if (part.find('\0') != std::string::npos)
            fail_form(path, "it holds a byte that is zero, which no text does");
        if (!pieces.take(part))
            fail(ErrorKind::limit, path,
                 fmt::format("{} goes on for more than {} bytes, which none of a map does", Pieces::piece,
                             Pieces::most),
                 "fetch the extract again, from a source you trust", static_cast<int>(pieces.line()));
        if (part.size() > room)
            refuse_unpacked(path);
        room -= part.size();
        progress(std::min(1.0, static_cast<double>(offset) / static_cast<double>(size)));
    }
}

std::unique_ptr<osmium::io::Reader> open_reader(const osmium::io::File& file, const std::string& path) {
    try {
        return std::make_unique<osmium::io::Reader>(file);
    } catch (...) {
        rethrow_as_error(path, false);
    }
}

osmium::memory::Buffer read_buffer(osmium::io::Reader& reader, const std::string& path, bool objects_came) {
    try {
        return reader.read();
    } catch (...) {
        rethrow_as_error(path, objects_came);
    }
}

/// The header's date; empty when it has none that reads as a time.
std::string header_date(osmium::io::Reader& reader, const std::string& path) {
    std::string date;
    try {
        const osmium::io::Header header = reader.header();
        date = header.get("osmosis_replication_timestamp", header.get("timestamp"));
    } catch (...) {
        rethrow_as_error(path, false);
    }
    try {
        return date.empty() ? date : osmium::Timestamp(date).to_iso();
    } catch (const std::invalid_argument&) {
        return {};
    }
}

std::string object_date(osmium::Timestamp newest) {
    return newest.seconds_since_epoch() < time_of_the_first_objects ? std::string() : newest.to_iso();
}

double fraction_read(const osmium::io::Reader& reader) {
    const std::size_t size = reader.file_size();
    if (size == 0)
        return 0.0;
    return std::min(1.0, static_cast<double>(reader.offset()) / static_cast<double>(size));
}

/// Real maps unpack to some two to five times their size as PBF and to twenty as XML, an invented grid to
/// more. Whoever wants to fill the memory needs a thousand.
constexpr std::uint64_t always_allowed = std::uint64_t{256} << 20;
constexpr std::uint64_t most_times_larger = 100;

}  // namespace

std::uint64_t unpacked_room(std::uint64_t packed) {
    return always_allowed + most_times_larger * packed;
}

void refuse_unpacked(const std::string& name) {
    fail(ErrorKind::limit, name, "the extract unpacks to far more than a map of its size holds",
         "give an extract from a source you trust");
}

OsmFileFacts read_osm_file(const std::string& path, OsmSink& sink,
                           const std::function<void(double)>& progress, PbfReader pbf) {
    require_plain_path(path);
    const std::uint64_t size = size_of_regular_file(path);
    const osmium::io::File file = file_of_known_form(path);
    using Form = osmium::io::file_format;
    if (pbf == PbfReader::direct && file.format() == Form::pbf)
        return read_pbf_file(path, sink, progress);
    double checked = 0;  // the part of the progress that the check takes
    if (file.format() != Form::pbf) {
        checked = 0.3;
        const auto check = file.format() == Form::xml ? check_text<XmlPieces> : check_text<OplLines>;
        check(file, path, size, [&](double fraction) { progress(checked * fraction); });
    }
    const auto reader = open_reader(file, path);
    std::string date = header_date(*reader, path);
    Dispatcher dispatcher(sink);
    bool objects_came = false;
    while (const osmium::memory::Buffer buffer = read_buffer(*reader, path, objects_came)) {
        objects_came = true;
        dispatcher.take(buffer);
        progress(checked + (1 - checked) * fraction_read(*reader));
    }
    return {date.empty() ? object_date(dispatcher.newest()) : std::move(date), dispatcher.deleted()};
}

}  // namespace loamway
