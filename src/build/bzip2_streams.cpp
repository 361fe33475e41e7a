// SPDX-License-Identifier: Apache-2.0
#include "bzip2_streams.h"

#include <bzlib.h>
#include <unistd.h>

#include <cerrno>
#include <cstddef>
#include <new>
#include <osmium/io/bzip2_compression.hpp>
#include <osmium/io/compression.hpp>
#include <osmium/io/file_compression.hpp>
#include <stdexcept>
#include <string>
#include <system_error>

namespace loamway {

namespace {

constexpr std::size_t packed_part = std::size_t{1} << 16;

class Bzip2Streams final : public osmium::io::Decompressor {
public:
    explicit Bzip2Streams(int fd) : m_fd(fd), m_packed(packed_part, '\0') {}
    Bzip2Streams(const Bzip2Streams&) = delete;
    Bzip2Streams& operator=(const Bzip2Streams&) = delete;
    ~Bzip2Streams() noexcept override { close(); }

    /// Nothing only at the end of the file.
    std::string read() override {
        std::string text(input_buffer_size, '\0');
        m_stream.next_out = text.data();
        m_stream.avail_out = static_cast<unsigned>(text.size());
        while (m_stream.avail_out > 0 && has_packed())
            unpack();
        text.resize(text.size() - m_stream.avail_out);
        return text;
    }
    void close() noexcept override {
        end_stream();
        if (m_fd >= 0)
            ::close(m_fd);
        m_fd = -1;
    }

private:
    bool has_packed() {
        if (m_stream.avail_in > 0)
            return true;
        ssize_t got = 0;
        do
            got = ::read(m_fd, m_packed.data(), m_packed.size());
        while (got < 0 && errno == EINTR);
        if (got < 0)
            throw std::system_error(errno, std::generic_category());
        if (got == 0 && m_in_stream)
            throw osmium::bzip2_error("bzip2 data that ends before its end", BZ_UNEXPECTED_EOF);
        m_stream.next_in = m_packed.data();
        m_stream.avail_in = static_cast<unsigned>(got);
        m_offset += static_cast<std::size_t>(got);
        set_offset(m_offset);
        return got > 0;
    }
    void unpack() {
        if (!m_in_stream) {
            if (::BZ2_bzDecompressInit(&m_stream, 0, 0) != BZ_OK)
                throw std::bad_alloc();
            m_in_stream = true;
        }
        const int said = ::BZ2_bzDecompress(&m_stream);
        if (said == BZ_STREAM_END) {
            end_stream();
            m_had_stream = true;
        } else if (said == BZ_MEM_ERROR) {
            throw std::bad_alloc();
        } else if (said != BZ_OK) {
            // What follows a whole stream and is none is no file of another kind.
            const bool other_kind = said == BZ_DATA_ERROR_MAGIC && !m_had_stream;
            throw osmium::bzip2_error("bzip2 data that contradicts itself",
                                      other_kind ? BZ_DATA_ERROR_MAGIC : BZ_DATA_ERROR);
        }
    }
    void end_stream() noexcept {
        if (m_in_stream)
            ::BZ2_bzDecompressEnd(&m_stream);
        m_in_stream = false;
    }

    int m_fd;
    std::string m_packed;
    bz_stream m_stream{};
    bool m_in_stream = false, m_had_stream = false;
    std::size_t m_offset = 0;
};

bool register_streams(osmium::io::file_compression key) {
    return osmium::io::CompressionFactory::instance().register_compression(
        key,
        [](int, osmium::io::fsync) -> osmium::io::Compressor* {
            throw std::logic_error("nothing is written by this");
        },
        [](int fd) { return new Bzip2Streams(fd); },
        [](const char*, std::size_t) -> osmium::io::Decompressor* {
            throw std::logic_error("only files are read by this");
        });
}

}  // namespace

osmium::io::file_compression bzip2_streams() {
    // The library finds readers by number; its own are few.
    constexpr auto key = static_cast<osmium::io::file_compression>(1000);
    static const bool registered = register_streams(key);
    static_cast<void>(registered);
    return key;
}

}  // namespace loamway
