// SPDX-License-Identifier: Apache-2.0
#include "loamway/desk/correction_book.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <deque>

#include "loamway/base/error.h"
#include "loamway/base/file_lock.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

CorrectionKind kind_of(const std::string& word) {
    const auto found = std::find(correction_kind_names.begin(), correction_kind_names.end(), word);
    if (found != correction_kind_names.end())
        return static_cast<CorrectionKind>(found - correction_kind_names.begin());
    const std::string near = nearest_name(word, correction_kind_names);
    throw Error(ErrorKind::input, fmt::format("\"{}\" is no kind of correction", printable(word)),
                near.empty() ? "surface, closed, limit, stop, no_stop, gate, loading or entrance"
                             : fmt::format("did you mean {}?", near));
}

GeoPoint point_of(const std::string& text) {
    if (const auto p = parse_lat_lon(text))
        return *p;
    throw Error(ErrorKind::input, fmt::format("\"{}\" is no position", printable(text)),
                "write LAT,LON in degrees, as in 47.31,-35.52");
}

std::vector<GeoPoint> line_of(const std::string& text) {
    std::vector<GeoPoint> line;
    std::size_t begin = 0;
    while (begin <= text.size()) {
        const std::size_t end = std::min(text.find(';', begin), text.size());
        line.push_back(point_of(text.substr(begin, end - begin)));
        begin = end + 1;
    }
    if (line.size() < 2)
        throw Error(ErrorKind::input, "a line has two points or more",
                    "write LAT,LON;LAT,LON, or give one by --at");
    return line;
}

/// The pieces of a way put together in its direction; in a region they lie in any order.
std::vector<GeoPoint> line_of_way(const RegionView& region, std::int64_t way) {
    std::vector<std::vector<GeoPoint>> pieces;
    for (std::size_t e = 0; e < region.edge_count(); ++e)
        if (region.edge_way[e] == way)
            pieces.push_back(region.edge_points(EdgeId{e}));
    if (pieces.empty())
        throw Error(ErrorKind::not_found, fmt::format("the region has no road of way {}", way),
                    "look the id up with: loamway region roads F.region --csv");
    std::deque<GeoPoint> line(pieces.front().begin(), pieces.front().end());
    pieces.erase(pieces.begin());
    for (bool grew = true; grew && !pieces.empty();) {
        grew = false;
        for (auto p = pieces.begin(); p != pieces.end() && !grew; ++p) {
            if (p->front() == line.back())
                line.insert(line.end(), p->begin() + 1, p->end());
            else if (p->back() == line.front())
                line.insert(line.begin(), p->begin(), p->end() - 1);
            else
                continue;
            pieces.erase(p);
            grew = true;
        }
    }
    if (!pieces.empty())
        throw Error(ErrorKind::input, fmt::format("way {} is not one line in this region", way),
                    "draw the part that is meant by --line");
    return {line.begin(), line.end()};
}

std::vector<GeoPoint> geometry_of(const CorrectionWanted& w, const RegionView& region) {
    if ((w.at ? 1 : 0) + (w.line ? 1 : 0) + (w.way ? 1 : 0) != 1)
        throw Error(ErrorKind::input, "a correction needs one place", "give one of --at, --line and --way");
    if (w.at)
        return {point_of(*w.at)};
    return w.line ? line_of(*w.line) : line_of_way(region, *w.way);
}

/// What is said of the road; who said it and when does not matter.
bool says_the_same(const Correction& a, const Correction& b) {
    return a.kind == b.kind && a.value == b.value && a.unit == b.unit && a.from == b.from && a.to == b.to &&
           a.line == b.line;
}

/// Whether it would match with the two numbers of each position exchanged.
bool looks_swapped(const RegionView& region, Correction c) {
    for (GeoPoint& p : c.line) {
        if (std::abs(p.lon()) > 90)
            return false;
        p = GeoPoint::from_degrees(p.lon(), p.lat());
    }
    return match_correction(region, c).state == CorrectionMatch::State::matched;
}

}  // namespace

TimeZone zone_of(const RegionMeta& meta) {
    return meta.time_zone.empty() ? TimeZone() : TimeZone(meta.time_zone);
}

CorrectionBook::CorrectionBook(const std::string& region_path, const std::optional<std::string>& file)
    : m_path(file.value_or(corrections_beside(region_path))), m_file(read(file.has_value())) {}

CorrectionFile CorrectionBook::read(bool must_be_there) const {
    try {
        return read_corrections(m_path);
    } catch (const Error& e) {
        if (must_be_there || e.kind() != ErrorKind::not_found)
            throw;
    }
    return {};
}

const Correction& CorrectionBook::add(const CorrectionWanted& wanted, const Region& region, Instant now) {
    Correction c;
    c.kind = kind_of(wanted.kind);
    c.value = wanted.value;
    if (c.kind == CorrectionKind::gate && c.value.empty())
        c.value = "locked";
    c.unit = wanted.unit;
    c.from = wanted.from;
    c.to = wanted.to;
    c.by = wanted.by;
    c.noted = format_rfc3339(now, zone_of(region.meta()));
    c.note = wanted.note;
    c.line = geometry_of(wanted, region.view());
    // Another process may have added its own since this book was opened.
    const FileLock lock(m_path);
    CorrectionFile longer = read(false);
    c.id = longer.next_id();
    check_correction(c);
    const CorrectionMatch match = match_correction(region.view(), c);
    if (match.state != CorrectionMatch::State::matched)
        throw Error(ErrorKind::not_found, fmt::format("this correction would change nothing: {}", match.why),
                    looks_swapped(region.view(), c)
                        ? "nothing was written; latitude and longitude are swapped: write LAT,LON"
                        : "nothing was written; give the position of the road itself");
    for (const Correction& there : longer.corrections)
        if (says_the_same(there, c))
            throw Error(
                ErrorKind::input,
                fmt::format("this correction would change nothing: {} says the same", printable(there.id)),
                fmt::format("nothing was written; to say it otherwise, remove {} first", printable(there.id)),
                {m_path, {}, {}});
    longer.corrections.push_back(std::move(c));
    write_corrections(longer, m_path);
    m_file = std::move(longer);
    return m_file.corrections.back();
}

Value::Object correction_said(const Correction& c) {
    Value::Object out{{"id", c.id}, {"kind", name_of(c.kind)}};
    for (const auto& [key, text] :
         {std::pair("value", &c.value), std::pair("unit", &c.unit), std::pair("from", &c.from),
          std::pair("to", &c.to), std::pair("by", &c.by), std::pair("noted", &c.noted),
          std::pair("note", &c.note)})
        out.emplace_back(key, text->empty() ? Value() : Value(*text));
    return out;
}

void CorrectionBook::remove(const std::string& id) {
    const FileLock lock(m_path);
    CorrectionFile shorter = read(false);
    const auto at = std::find_if(shorter.corrections.begin(), shorter.corrections.end(),
                                 [&](const Correction& c) { return c.id == id; });
    if (at == shorter.corrections.end()) {
        std::vector<std::string_view> ids;
        for (const Correction& c : shorter.corrections)
            ids.push_back(c.id);
        const std::string near = nearest_name(id, ids);
        throw Error(
            ErrorKind::not_found, fmt::format("there is no correction {}", printable(id)),
            near.empty() ? "see them with: loamway correct list" : fmt::format("did you mean {}?", near),
            {m_path, {}, {}});
    }
    shorter.corrections.erase(at);
    write_corrections(shorter, m_path);
    m_file = std::move(shorter);
}

}  // namespace loamway
