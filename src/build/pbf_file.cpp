// SPDX-License-Identifier: Apache-2.0
// Blocks are taken in batches. While one batch is unpacked and taken apart by all threads, the one before it
// is handed to the sink, in the order of the file, by one of them.
#include "pbf_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <exception>
#include <optional>
#include <system_error>
#include <utility>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/base/parallel.h"
#include "loamway/base/time.h"
#include "pbf_blobs.h"
#include "pbf_block.h"

namespace loamway {

namespace {

constexpr unsigned most_threads = 8;  // handing out cannot keep up with more
constexpr std::size_t blocks_per_thread = 1;

/// Common writers put up to 8000 objects into a block.
constexpr std::size_t usual_block = 8000;
constexpr std::size_t most_expected = std::size_t{1} << 24;

[[noreturn]] void fail(const std::string& name, const PbfFault& fault) {
    if (fault.unsupported)
        throw Error(ErrorKind::input, "this kind of PBF file is not read: " + fault.what,
                    "write it again in the plain form, packed with zlib", {name, {}, {}});
    throw Error(ErrorKind::damaged, "the extract is cut off or damaged: " + fault.what, "fetch it again",
                {name, {}, {}});
}

/// Hands the objects of blocks to the sink.
class Giver {
public:
    explicit Giver(OsmSink& sink) : m_sink(sink) {}

    void give(const PbfBlock& block) {
        m_sink.begin_texts(block.texts.size());
        for (const PbfBlock::Run& run : block.runs)
            if (run.kind == 'n')
                give_nodes(block, run);
            else if (run.kind == 'w')
                give_ways(block, run);
            else
                give_relations(block, run);
    }

private:
    void give_nodes(const PbfBlock& block, const PbfBlock::Run& run) {
        auto tagged = std::ranges::lower_bound(block.node_tags, run.first, {}, &PbfBlock::NodeTags::node);
        const auto is_plain = [&](std::uint32_t i) {
            return block.node_points[i] != PbfBlock::no_point &&
                   (tagged == block.node_tags.end() || tagged->node != i);
        };
        for (std::uint32_t i = run.first; i < run.end;) {
            const std::uint32_t first = i;
            while (i < run.end && is_plain(i))
                ++i;
            if (i > first)
                m_sink.plain_nodes(std::span(block.node_ids).subspan(first, i - first),
                                   std::span(block.node_points).subspan(first, i - first));
            if (i == run.end)
                break;
            const bool has_tags = tagged != block.node_tags.end() && tagged->node == i;
            const GeoPoint p = block.node_points[i];
            m_sink.node(
                block.node_ids[i], p == PbfBlock::no_point ? std::nullopt : std::optional(p),
                has_tags ? tags(block, tagged->tag_first, tagged->tag_count) : std::span<const OsmTag>());
            if (has_tags)
                ++tagged;
            ++i;
        }
    }
    void give_ways(const PbfBlock& block, const PbfBlock::Run& run) {
        for (std::uint32_t i = run.first; i < run.end; ++i) {
            const PbfBlock::Way& way = block.ways[i];
            m_sink.way(way.id, std::span(block.refs).subspan(way.ref_first, way.ref_count),
                       tags(block, way.tag_first, way.tag_count));
        }
    }
    void give_relations(const PbfBlock& block, const PbfBlock::Run& run) {
        for (std::uint32_t i = run.first; i < run.end; ++i) {
            const PbfBlock::Relation& relation = block.relations[i];
            m_members.clear();
            for (const PbfBlock::Member& m :
                 std::span(block.members).subspan(relation.member_first, relation.member_count))
                m_members.push_back({m.type, m.ref, block.texts[m.role]});
            m_sink.relation(relation.id, m_members, tags(block, relation.tag_first, relation.tag_count));
        }
    }
    std::span<const OsmTag> tags(const PbfBlock& block, std::uint32_t first, std::uint32_t count) {
        m_tags.clear();
        for (const auto& [key, value] : std::span(block.tags).subspan(first, count))
            m_tags.push_back({block.texts[key], block.texts[value], key, value});
        return m_tags;
    }

    OsmSink& m_sink;
    std::vector<OsmTag> m_tags;
    std::vector<OsmMember> m_members;
};

/// One block on its way. What goes wrong while it is unpacked is told when its turn comes, so that the error
/// does not depend on which thread was first.
struct Slot {
    std::vector<char> bytes;
    PbfBlock block;
    std::exception_ptr error;
};

class PbfReading {
public:
    PbfReading(const PbfSource& source, const std::string& name, OsmSink& sink, unsigned threads)
        : m_source(source),
          m_name(name),
          m_sink(sink),
          m_giver(sink),
          m_pool(threads == 0 ? std::min(most_threads, std::max(1u, std::thread::hardware_concurrency()))
                              : threads),
          m_unpackers(m_pool.thread_count()),
          m_room(unpacked_room(source.size())) {}

    OsmFileFacts read(const std::function<void(double)>& progress) {
        m_blobs = find_pbf_blobs(m_source, m_name);
        const PbfHeader header = read_header();
        m_with_times = header.time == 0;
        m_sink.expect_nodes(std::min(m_blobs.size() * usual_block, most_expected));
        const std::size_t batch = blocks_per_thread * m_pool.thread_count();
        m_filling.resize(batch);
        m_giving.resize(batch);
        std::size_t given_end = 1,
                    filled_end = 1;  // the blob after the last one that is done; 0 is the header
        while (given_end < m_blobs.size()) {
            const std::size_t fill_end = std::min(filled_end + batch, m_blobs.size());
            run(filled_end - given_end, filled_end, fill_end);
            const bool gave = filled_end > given_end;
            given_end = filled_end;
            filled_end = fill_end;
            std::swap(m_filling, m_giving);
            if (gave)
                progress(static_cast<double>(m_blobs[given_end - 1].offset + m_blobs[given_end - 1].size) /
                         static_cast<double>(m_source.size()));
        }
        const std::uint32_t time = header.time != 0 ? header.time : m_newest;
        const bool says = header.time != 0 || time >= time_of_the_first_objects;
        return {says ? format_rfc3339({time}, TimeZone()) : std::string(), m_deleted};
    }

private:
    PbfHeader read_header() {
        PbfHeader header;
        try {
            std::vector<char> bytes;
            header = decode_pbf_header(m_unpackers.front().unpack(m_source, m_blobs.front(), bytes));
        } catch (const PbfFault& fault) {
            fail(m_name, fault);
        }
        if (header.has_history)
            throw Error(ErrorKind::input, "this holds changes or a history, not a map at one time",
                        "give a plain extract", {m_name, {}, {}});
        return header;
    }

    /// Piece 0 hands out what the round before has filled; the others fill.
    void run(std::size_t to_give, std::size_t first, std::size_t end) {
        m_pool.run(1 + end - first, [&](std::size_t piece, unsigned worker) {
            if (piece == 0)
                give(to_give);
            else
                fill(m_filling[piece - 1], m_blobs[first + piece - 1], m_unpackers[worker]);
        });
    }
    void give(std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) {
            const Slot& slot = m_giving[i];
            if (slot.error)
                std::rethrow_exception(slot.error);
            if (slot.bytes.size() > m_room)
                refuse_unpacked(m_name);
            m_room -= slot.bytes.size();
            m_giver.give(slot.block);
            m_newest = std::max(m_newest, slot.block.newest);
            m_deleted += slot.block.deleted;
        }
    }
    void fill(Slot& slot, const PbfBlob& blob, PbfUnpacker& unpacker) {
        slot.error = nullptr;
        try {
            slot.block.decode(unpacker.unpack(m_source, blob, slot.bytes), m_with_times);
        } catch (const PbfFault& fault) {
            try {
                fail(m_name, fault);
            } catch (...) {
                slot.error = std::current_exception();
            }
        } catch (...) {
            slot.error = std::current_exception();
        }
    }

    const PbfSource& m_source;
    const std::string& m_name;
    OsmSink& m_sink;
    Giver m_giver;
    WorkerPool m_pool;
    std::vector<PbfUnpacker> m_unpackers;
    std::vector<PbfBlob> m_blobs;
    std::vector<Slot> m_filling, m_giving;
    std::uint64_t m_room;
    bool m_with_times = true;
    std::uint32_t m_newest = 0;
    std::int64_t m_deleted = 0;
};

/// Read piece by piece rather than mapped: a file that is cut while it is read gives an error, not a signal,
/// and its pages do not count as memory.
class FileSource : public PbfSource {
public:
    explicit FileSource(std::string path) : m_path(std::move(path)) {
        m_fd = ::open(m_path.c_str(), O_RDONLY | O_CLOEXEC | O_NOCTTY);
        if (m_fd < 0)
            fail_system(errno);
        struct stat info {};
        if (::fstat(m_fd, &info) != 0) {
            const int why = errno;
            ::close(m_fd);
            fail_system(why);
        }
        m_size = static_cast<std::uint64_t>(info.st_size);
    }
    FileSource(const FileSource&) = delete;
    FileSource& operator=(const FileSource&) = delete;
    ~FileSource() override { ::close(m_fd); }

    [[nodiscard]] std::uint64_t size() const override { return m_size; }
    void read(std::uint64_t offset, std::span<char> out) const override {
        while (!out.empty()) {
            const ssize_t got = ::pread(m_fd, out.data(), out.size(), static_cast<off_t>(offset));
            if (got < 0 && errno == EINTR)
                continue;
            if (got < 0)
                fail_system(errno);
            if (got == 0)
                throw Error(ErrorKind::io, "the file became shorter while it was read", "try again",
                            {m_path, {}, {}});
            out = out.subspan(static_cast<std::size_t>(got));
            offset += static_cast<std::uint64_t>(got);
        }
    }

private:
    [[noreturn]] void fail_system(int why) const {
        throw Error(why == ENOENT ? ErrorKind::not_found : ErrorKind::io,
                    "cannot be read: " + std::generic_category().message(why),
                    "check the path, the permissions and the disk", {m_path, {}, {}});
    }

    std::string m_path;
    int m_fd = -1;
    std::uint64_t m_size = 0;
};

}  // namespace

OsmFileFacts read_pbf(const PbfSource& source, const std::string& name, OsmSink& sink,
                      const std::function<void(double)>& progress, unsigned threads) {
    return PbfReading(source, name, sink, threads).read(progress);
}

OsmFileFacts read_pbf_file(const std::string& path, OsmSink& sink,
                           const std::function<void(double)>& progress) {
    return read_pbf(FileSource(path), path, sink, progress);
}

}  // namespace loamway
