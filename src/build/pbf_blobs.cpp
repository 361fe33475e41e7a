// SPDX-License-Identifier: Apache-2.0
// Field numbers and limits are those of the published format (OSM-binary, fileformat.proto): a block's header
// below 64 KiB, a block below 32 MiB, packed and unpacked.
#include "pbf_blobs.h"

#include <libdeflate.h>

#include <algorithm>
#include <array>
#include <new>
#include <protozero/exception.hpp>
#include <protozero/pbf_reader.hpp>
#include <string_view>

#include "loamway/base/error.h"
#include "pbf_block.h"

namespace loamway {

namespace {

constexpr std::uint32_t largest_header = 64u << 10;
constexpr std::uint32_t largest_blob = 32u << 20;

[[noreturn]] void fail_no_pbf(const std::string& name, const std::string& detail) {
    throw Error(ErrorKind::input, "this does not read as its name says: " + detail,
                "give an OpenStreetMap extract in the form its name says", {name, {}, {}});
}

[[noreturn]] void fail_damaged(const std::string& name, const std::string& detail) {
    throw Error(ErrorKind::damaged, "the extract is cut off or damaged: " + detail, "fetch it again",
                {name, {}, {}});
}

struct BlobHeader {
    std::string type;
    std::int64_t size = -1;
};

BlobHeader header_of(std::span<const char> bytes) {
    protozero::pbf_reader message(protozero::data_view(bytes.data(), bytes.size()));
    BlobHeader header;
    while (message.next())
        switch (message.tag_and_type()) {
            case protozero::tag_and_type(1, protozero::pbf_wire_type::length_delimited):
                header.type = message.get_string();
                break;
            case protozero::tag_and_type(3, protozero::pbf_wire_type::varint):
                header.size = message.get_int32();
                break;
            default:
                message.skip();
        }
    return header;
}

/// Walks from block to block. Until the first block's kind is known, what does not fit means another form of
/// file; after it, damage.
class Walker {
public:
    Walker(const PbfSource& source, const std::string& name) : m_source(source), m_name(name) {}

    [[nodiscard]] bool at_end() const { return m_at == m_source.size(); }

    PbfBlob next(std::string_view expected_type) {
        std::array<char, 4> length{};
        take(length);
        std::uint32_t size = 0;
        for (const char c : length)
            size = size << 8 | static_cast<unsigned char>(c);
        if (size == 0 || size > largest_header)
            fail("a block's header has no length a header can have");
        m_header.resize(size);
        take(m_header);
        const BlobHeader header = read_header();
        if (header.type != expected_type)
            fail("a block is not of the kind that belongs there");
        m_is_pbf = true;
        if (header.size <= 0 || header.size > largest_blob)
            fail("a block has no length a block can have");
        const PbfBlob blob{m_at, static_cast<std::uint32_t>(header.size)};
        if (blob.size > m_source.size() - m_at)
            fail("the file ends within a block");
        m_at += blob.size;
        return blob;
    }

private:
    [[noreturn]] void fail(const std::string& detail) const {
        m_is_pbf ? fail_damaged(m_name, detail) : fail_no_pbf(m_name, detail);
    }
    void take(std::span<char> out) {
        if (out.size() > m_source.size() - m_at)
            fail("the file ends within a block's header");
        m_source.read(m_at, out);
        m_at += out.size();
    }
    [[nodiscard]] BlobHeader read_header() const {
        try {
            return header_of(m_header);
        } catch (const protozero::exception& e) {
            fail(e.what());
        }
    }

    const PbfSource& m_source;
    const std::string& m_name;
    std::uint64_t m_at = 0;
    std::vector<char> m_header;
    bool m_is_pbf = false;
};

struct Packed {
    bool is_raw = false;
    bool has_data = false;
    protozero::data_view data;
    std::int64_t raw_size = 0;
};

Packed packed_of(std::span<const char> blob) {
    using protozero::pbf_wire_type;
    using protozero::tag_and_type;
    constexpr pbf_wire_type bytes = pbf_wire_type::length_delimited;
    protozero::pbf_reader message(protozero::data_view(blob.data(), blob.size()));
    Packed packed;
    const auto take_data = [&](bool is_raw) {
        if (packed.has_data)
            throw PbfFault{"a block holds its data twice"};
        packed.has_data = true;
        packed.is_raw = is_raw;
        packed.data = message.get_view();
    };
    while (message.next())
        switch (message.tag_and_type()) {
            case tag_and_type(1, bytes):
                take_data(true);
                break;
            case tag_and_type(2, pbf_wire_type::varint):
                packed.raw_size = message.get_int32();
                break;
            case tag_and_type(3, bytes):
                take_data(false);
                break;
            case tag_and_type(4, bytes):
                throw PbfFault{"it is packed with lzma", true};
            case tag_and_type(5, bytes):
                throw PbfFault{"it is packed with bzip2", true};
            case tag_and_type(6, bytes):
                throw PbfFault{"it is packed with lz4", true};
            case tag_and_type(7, bytes):
                throw PbfFault{"it is packed with zstd", true};
            default:
                message.skip();
        }
    return packed;
}

}  // namespace

std::vector<PbfBlob> find_pbf_blobs(const PbfSource& source, const std::string& name) {
    Walker walker(source, name);
    std::vector<PbfBlob> blobs{walker.next("OSMHeader")};
    while (!walker.at_end())
        blobs.push_back(walker.next("OSMData"));
    return blobs;
}

void PbfUnpacker::Free::operator()(void* decompressor) const {
    libdeflate_free_decompressor(static_cast<libdeflate_decompressor*>(decompressor));
}

PbfUnpacker::PbfUnpacker() : m_decompressor(libdeflate_alloc_decompressor()) {
    if (!m_decompressor)
        throw std::bad_alloc();
}

std::span<const char> PbfUnpacker::unpack(const PbfSource& source, const PbfBlob& blob,
                                          std::vector<char>& out) {
    m_packed.resize(blob.size);
    source.read(blob.offset, m_packed);
    Packed packed;
    try {
        packed = packed_of(m_packed);
    } catch (const protozero::exception& e) {
        throw PbfFault{e.what()};
    }
    if (!packed.has_data)
        throw PbfFault{"a block holds no data"};
    if (packed.is_raw) {
        out.assign(packed.data.data(), packed.data.data() + packed.data.size());
        return out;
    }
    if (packed.raw_size <= 0 || packed.raw_size > largest_blob)
        throw PbfFault{"a block does not say how long its data is"};
    out.resize(static_cast<std::size_t>(packed.raw_size));
    // Without a place for the real length anything but exactly this much is refused.
    const auto result =
        libdeflate_zlib_decompress(static_cast<libdeflate_decompressor*>(m_decompressor.get()),
                                   packed.data.data(), packed.data.size(), out.data(), out.size(), nullptr);
    if (result != LIBDEFLATE_SUCCESS)
        throw PbfFault{"a block does not unpack"};
    return out;
}

}  // namespace loamway
