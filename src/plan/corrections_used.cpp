// SPDX-License-Identifier: Apache-2.0
#include "corrections_used.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>
#include <optional>
#include <unordered_map>

#include "loamway/graph/corrected_region.h"

namespace loamway {

namespace {

struct Where {
    std::uint64_t at_dm = 0;
    Duration passes;  // after departure
    GeoPoint point;
    bool on_way = true;  // else only near it: no kilometre, no time
};

/// Where the way first meets each road and junction.
class WayIndex {
public:
    WayIndex(const Setting& setting, const Path& path) {
        const RoadGraph& graph = setting.graph();
        for (const PathPiece& p : path.pieces) {
            const ArcId a = p.piece.arc;
            const Where begin{p.at_dm, p.begins, setting.point_on(a, p.piece.from_dm)};
            widen(begin.point);
            widen(setting.point_on(a, p.piece.to_dm));
            m_edges.try_emplace(graph.edge_of(a).value(), begin);
            if (p.piece.from_dm == 0)
                m_nodes.try_emplace(graph.tail(a).value(), begin);
            if (p.piece.to_dm == graph.arc(a).length_dm)
                m_nodes.try_emplace(graph.head(a).value(),
                                    Where{p.at_dm + p.piece.length_dm(), p.begins + p.takes,
                                          setting.point_on(a, p.piece.to_dm)});
        }
    }
    [[nodiscard]] const Where* edge(EdgeId e) const { return find(m_edges, e.value()); }
    [[nodiscard]] const Where* node(NodeId n) const { return find(m_nodes, n.value()); }

    /// The first place where the way meets one of the correction's roads or gates.
    [[nodiscard]] const Where* meets(const CorrectionMatch& m) const {
        const Where* first = nullptr;
        for (const EdgeId e : m.edges)
            first = earlier(first, edge(e));
        for (const NodeId n : m.nodes)
            first = earlier(first, node(n));
        return first;
    }
    /// The first place of a correction in the rectangle around the way.
    [[nodiscard]] std::optional<Where> near(const Correction& c) const {
        for (const GeoPoint p : c.line)
            if (p.lat_e7 >= m_low.lat_e7 && p.lat_e7 <= m_high.lat_e7 && p.lon_e7 >= m_low.lon_e7 &&
                p.lon_e7 <= m_high.lon_e7)
                return Where{0, {}, p, false};
        return std::nullopt;
    }

private:
    using Index = std::unordered_map<std::uint32_t, Where>;
    static const Where* find(const Index& index, std::uint32_t key) {
        const auto found = index.find(key);
        return found == index.end() ? nullptr : &found->second;
    }
    static const Where* earlier(const Where* a, const Where* b) {
        return a == nullptr || (b != nullptr && b->at_dm < a->at_dm) ? b : a;
    }
    void widen(GeoPoint p) {
        m_low = {std::min(m_low.lat_e7, p.lat_e7), std::min(m_low.lon_e7, p.lon_e7)};
        m_high = {std::max(m_high.lat_e7, p.lat_e7), std::max(m_high.lon_e7, p.lon_e7)};
    }
    Index m_edges, m_nodes;
    GeoPoint m_low{std::numeric_limits<std::int32_t>::max(), std::numeric_limits<std::int32_t>::max()};
    GeoPoint m_high{std::numeric_limits<std::int32_t>::min(), std::numeric_limits<std::int32_t>::min()};
};

class CorrectionNotes {
public:
    CorrectionNotes(const Setting& setting, const CorrectedRegion& corrected, const Path& path)
        : m_setting(setting), m_corrected(corrected), m_way(setting, path), m_total(path.total) {}

    void find(const Path& path, std::span<const ChosenStop> stops) {
        const auto corrections = m_corrected.corrections();
        for (std::size_t i = 0; i < corrections.size(); ++i) {
            if (!m_corrected.in_force(i) || corrections[i].kind == CorrectionKind::stop)
                continue;
            const CorrectionMatch& m = m_corrected.matches()[i];
            if (corrections[i].kind == CorrectionKind::closed) {
                if (const auto where = m_way.near(corrections[i]))
                    m_used.emplace(i, *where);
            } else if (const Where* where = on_the_way(corrections[i], m); where != nullptr) {
                m_used.emplace(i, *where);
            }
        }
        const StopPlaceRecord* records = m_corrected.view().stop_places.data();
        for (const PathStop& s : path.stops) {
            const ChosenStop& stop = stops[s.stop];
            if (stop.place == nullptr)
                continue;
            if (const auto i = m_corrected.of_stop_place(static_cast<std::size_t>(stop.place - records)))
                m_used.emplace(*i, Where{s.at_dm, s.arrives, stop.point});
        }
    }

    void write(Option& o) {
        const auto corrections = m_corrected.corrections();
        for (const auto& [i, where] : m_used) {
            o.corrections.push_back(corrections[i].id);
            tell_note(corrections[i], where, o);
            tell_end(i, where, o);
        }
        for (const CorrectionConflict& c : m_corrected.conflicts()) {
            const auto at = m_used.find(c.winner);
            if (at != m_used.end() && m_corrected.in_force(c.loser))
                add(o, Severity::check, fmt::format("corrections differ: {}", c.text), at->second);
        }
        for (std::size_t i = 0; i < corrections.size(); ++i)
            tell_begin(i, o);
    }

private:
    /// Only kinds that change a road are met on the way; loading places and entrances lie beside it.
    [[nodiscard]] const Where* on_the_way(const Correction& c, const CorrectionMatch& m) const {
        const bool changes_road = c.kind == CorrectionKind::surface || c.kind == CorrectionKind::limit ||
                                  c.kind == CorrectionKind::gate;
        return changes_road ? m_way.meets(m) : nullptr;
    }

    void tell_note(const Correction& c, const Where& where, Option& o) const {
        const bool gate = c.kind == CorrectionKind::gate && c.value != "open";
        if (c.note.empty() && !gate)
            return;
        std::string text = fmt::format("correction {}: {}", c.id, words_for(c));
        if (!c.by.empty())
            text += fmt::format(", by {}", c.by);
        if (!c.note.empty())
            text += fmt::format(": {}", c.note);
        add(o, gate ? Severity::check : Severity::note, std::move(text), where);
    }

    [[nodiscard]] Instant day_end() const {
        const TimeZone& zone = m_setting.zone();
        LocalTime day = zone.local(m_setting.in().depart + m_total);
        day.hour = 23;
        day.minute = day.second = 59;
        return zone.instant(day) + Duration::from_seconds(1);
    }

    void tell_end(std::size_t i, const Where& where, Option& o) const {
        const auto ends = m_corrected.validity()[i].ends;
        if (!ends || *ends > day_end())
            return;
        const Correction& c = m_corrected.corrections()[i];
        const std::string when =
            *ends == day_end() ? "with the day of this move"
                               : "at " + format_clock(*ends, m_setting.zone()) + " on the day of this move";
        add(o, Severity::note,
            fmt::format("correction {} ({}) ends {}: later the map's own reading counts again", c.id,
                        words_for(c), when),
            where);
    }

    /// What begins after departure, on a road of this way: the plan does not know it yet.
    void tell_begin(std::size_t i, Option& o) const {
        const Correction& c = m_corrected.corrections()[i];
        const auto begins = m_corrected.validity()[i].begins;
        if (!begins || *begins <= m_setting.in().depart || *begins >= day_end())
            return;
        const bool closes = c.kind == CorrectionKind::closed;
        const CorrectionMatch& m = m_corrected.matches()[i];
        const Where* where = closes ? m_way.meets(m) : on_the_way(c, m);
        if (where == nullptr)
            return;
        const bool before_passing = *begins <= m_setting.in().depart + where->passes;
        add(o, before_passing && closes ? Severity::stop : Severity::check,
            fmt::format(
                "correction {} ({}) begins at {} on the day of this move, {} this way is due there at {}",
                c.id, words_for(c), format_clock(*begins, m_setting.zone()),
                before_passing ? "before" : "after",
                format_clock(m_setting.in().depart + where->passes, m_setting.zone())),
            *where);
    }

    static void add(Option& o, Severity severity, std::string text, const Where& where) {
        Flag f;
        f.kind = "correction";
        f.severity = severity;
        f.text = std::move(text);
        if (where.on_way)
            f.at_m = static_cast<double>(where.at_dm) / 10.0;
        f.point = where.point;
        o.flags.push_back(std::move(f));
    }

    const Setting& m_setting;
    const CorrectedRegion& m_corrected;
    WayIndex m_way;
    Duration m_total;
    std::map<std::size_t, Where> m_used;  // correction, where
};

}  // namespace

void note_corrections(const Setting& setting, const Path& path, std::span<const ChosenStop> stops,
                      Option& o) {
    if (setting.in().corrections == nullptr)
        return;
    CorrectionNotes notes(setting, *setting.in().corrections, path);
    notes.find(path, stops);
    notes.write(o);
}

}  // namespace loamway
