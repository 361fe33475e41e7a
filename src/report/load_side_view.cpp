// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "dimensions.h"
#include "load_views.h"

namespace loamway {
namespace {

constexpr double row = 13.5;          // between rows of dimensions
constexpr double truck_wheel = 0.50;  // radius, drawn
constexpr double cab_length = 2.2;
constexpr double frame_height = 1.0;
constexpr double plate_height = 1.25;  // top of the gooseneck
constexpr double deck_thickness = 0.18;

class SideView {
public:
    SideView(Canvas& canvas, const PageBox& box, const LoadingPlan& plan)
        : m_plan(plan),
          m_front((plan.low_bed.deck.end() - plan.low_bed.length).metres()),
          m_rear(std::max(plan.low_bed.deck.end(), plan.place.machine_to).metres()),
          m_view(canvas, origin(box, plan), scale(box, plan)) {}

    void draw() {
        ground();
        truck();
        trailer();
        machine();
        axles();
        heights();
        lengths();
        m_view.write_words();
    }

private:
    static constexpr double side_room = 46;  // for heights
    static constexpr double below = 26 + 6.4 * row;

    static double scale(const PageBox& box, const LoadingPlan& plan) {
        const double length = plan.loaded.length.metres() + 0.3;
        const double height = std::max(plan.loaded.height.metres(), plan.low_bed.height_empty.metres()) + 0.3;
        return std::min((box.width - 2 * side_room) / length, (box.height - below) / height);
    }
    static PagePoint origin(const PageBox& box, const LoadingPlan& plan) {
        const double front = (plan.low_bed.deck.end() - plan.low_bed.length).metres();
        const double s = scale(box, plan);
        const double spare = box.width - 2 * side_room - (plan.loaded.length.metres() + 0.3) * s;
        return {box.x + side_room + spare / 2 - front * s, box.bottom() - below};
    }
    static Length m(double v) { return Length::from_metres(v); }
    Canvas& canvas() const { return m_view.canvas(); }

    void ground() const {
        canvas().line(m_view.at(m_front - 0.4, 0), m_view.at(m_rear + 0.4, 0), heavy_line);
    }

    void truck() const {
        const TruckAxles& a = m_plan.low_bed.axles;
        const Fill body{Ink::grey(0.93)};
        const double drive = a.kingpin_ahead.metres();
        m_view.box(m_front, m_front + cab_length, 0.45, m_plan.low_bed.height_empty.metres(), &body,
                   &plain_line, 0.15);
        const Fill glass{white_ink};
        m_view.box(m_front + 0.15, m_front + 1.0, m_plan.low_bed.height_empty.metres() - 1.35,
                   m_plan.low_bed.height_empty.metres() - 0.45, &glass, &thin_line, 0.08);
        m_view.box(m_front + cab_length, drive + 1.1, frame_height - 0.25, frame_height, &body, &plain_line);
        m_view.wheel(drive - a.wheelbase.metres(), truck_wheel);
        for (int i = 0; i < a.drive_axles; ++i)
            m_view.wheel(drive + (i - (a.drive_axles - 1) / 2.0) * a.drive_spacing.metres(), truck_wheel);
    }

    void trailer() const {
        const LowBed& bed = m_plan.low_bed;
        const double start = bed.deck.start.metres(), end = bed.deck.end().metres();
        const double top = bed.deck_height.metres();
        const Fill steel{Ink::grey(0.7)};
        const double nose = std::min(-1.0, start - 0.5);
        const std::array<PagePoint, 6> neck{
            {m_view.at(nose, plate_height), m_view.at(start - 0.35, plate_height), m_view.at(start, top),
             m_view.at(start, top - deck_thickness), m_view.at(start - 0.55, plate_height - 0.2),
             m_view.at(nose, plate_height - 0.2)}};
        if (top < plate_height)
            canvas().polygon(neck, &steel, &plain_line);
        else
            m_view.box(nose, start, top - deck_thickness, top, &steel, &plain_line);
        m_view.box(start, end, top - deck_thickness, top, &steel, &plain_line);
        const TruckAxles& a = bed.axles;
        const double radius = std::min(truck_wheel, std::max(0.2, (top - deck_thickness) / 2 + 0.05));
        for (int i = 0; i < a.trailer_axles; ++i)
            m_view.wheel(
                a.trailer_at.metres() + (i - (a.trailer_axles - 1) / 2.0) * a.trailer_spacing.metres(),
                radius);
    }

    [[nodiscard]] double standing_on() const {
        return (m_plan.loaded.height - m_plan.state.height).metres() < m_plan.low_bed.deck_height.metres()
                   ? m_plan.low_bed.deck_height.metres()
                   : (m_plan.loaded.height - m_plan.state.height).metres();
    }

    void machine() const {
        const DeckPlace& p = m_plan.place;
        const WorkingState& s = m_plan.state;
        const double base = standing_on();
        const double from = p.machine_from.metres(), to = p.machine_to.metres(), height = s.height.metres();
        const Fill body{Ink::grey(0.88), Pattern::diagonal, 5, 0.35, white_ink};
        const double low =
            std::min({s.front_clearance, s.rear_clearance, m_plan.machine.ground_clearance}).metres();
        m_view.box(from, to, base + low, base + 0.52 * height, &body, &plain_line, 0.1);
        // The cab: behind the middle, seen in the direction the machine faces.
        const double stands = (p.stands_from + p.stands_to).metres() / 2;
        const double cab = stands + (p.faces_rear ? -0.5 : 0.5);
        const Fill glass{white_ink};
        m_view.box(cab - 0.85, cab + 0.85, base + 0.52 * height, base + height, &glass, &plain_line, 0.12);
        running_gear(base);
        chains(base);
        m_view.centre_of_mass(p.centre.metres(), base + s.centre_height.metres());
        Lettering l;
        l.size = 7.5;
        l.align = Align::centre;
        l.rise = Rise::middle;
        l.bold = true;
        m_view.word(m_view.at(p.faces_rear ? to - 0.55 : from + 0.55, base + 0.40 * height),
                    p.faces_rear ? "front →" : "← front", l);
    }

    void running_gear(double base) const {
        const DeckPlace& p = m_plan.place;
        const double run = m_plan.machine.belts.ground_run.metres();
        const double high = belt_height(m_plan).metres();
        const Fill rubber{Ink::grey(0.55)}, inside{white_ink};
        const std::size_t axles = m_plan.state.axles.size();
        for (std::size_t i = 0; i < axles; ++i) {
            // Axles stand evenly between the first and the last; belts stand around theirs.
            const bool belts = m_plan.state.tracked[i];
            double at = (p.stands_from + p.stands_to).metres() / 2;
            if (axles > 1) {
                const double first = m_plan.state.tracked[0] ? run / 2 : 0.0;
                const double along = first + m_plan.machine.wheelbase.metres() * static_cast<double>(i) /
                                                 static_cast<double>(axles - 1);
                at = p.faces_rear ? p.stands_to.metres() - along : p.stands_from.metres() + along;
            }
            if (belts) {
                m_view.box(at - run / 2 - high / 2, at + run / 2 + high / 2, base, base + high, &rubber,
                           &plain_line, high / 2);
                m_view.box(at - run / 2 - high / 2 + 0.12, at + run / 2 + high / 2 - 0.12, base + 0.12,
                           base + high - 0.12, &inside, &thin_line, high / 2 - 0.12);
            } else {
                const Canvas::Frame frame(canvas());
                canvas().move(0, -m_view.size(m(base)));
                m_view.wheel(at, 0.65);
            }
        }
    }

    void chains(double base) const {
        const DeckPlace& p = m_plan.place;
        const Deck& d = m_plan.low_bed.deck;
        const Stroke chain{black_ink, 1.3, {1.5, 2}, true};
        const double hook = base + 0.55;
        const double front = std::max(p.stands_from.metres() - 0.3, p.machine_from.metres());
        const double rear = std::min(p.stands_to.metres() + 0.3, p.machine_to.metres());
        const double reach = 0.9;
        canvas().line(m_view.at(front, hook),
                      m_view.at(std::max(front - reach, d.start.metres() + 0.05), base), chain);
        canvas().line(m_view.at(rear, hook), m_view.at(std::min(rear + reach, d.end().metres() - 0.05), base),
                      chain);
    }

    void load_text(double at_m, const char* name, Mass load, Mass limit) const {
        Lettering l;
        l.size = 7.5;
        l.align = Align::centre;
        const PagePoint at = m_view.at(at_m, 0);
        m_view.word({at.x, at.y + 3}, name, l);
        l.bold = true;
        m_view.word({at.x, at.y + 12}, m_plan.words().mass_of(load, limit), l);
    }

    void axles() const {
        const TruckAxles& a = m_plan.low_bed.axles;
        const AxleLoads& l = m_plan.loaded.loads;
        load_text((a.kingpin_ahead - a.wheelbase).metres(), "steering", l.steer, a.steer_limit);
        load_text(a.kingpin_ahead.metres(), "driven", l.drive, a.drive_limit);
        load_text(a.trailer_at.metres(), "trailer", l.trailer, a.trailer_limit);
        Lettering kingpin;
        kingpin.size = 7.5;
        kingpin.align = Align::centre;
        kingpin.rise = Rise::bottom;
        const PagePoint pin = m_view.at(0, plate_height + 0.1);
        const std::array<PagePoint, 3> mark{
            {{pin.x, pin.y + 3}, {pin.x - 4, pin.y - 5}, {pin.x + 4, pin.y - 5}}};
        const Fill black{black_ink};
        canvas().polygon(mark, &black, nullptr);
        m_view.word({pin.x, pin.y - 7},
                    fmt::format("kingpin {}", m_plan.words().mass_of(l.kingpin, a.kingpin_limit)), kingpin);
    }

    void heights() const {
        const double right = m_view.x(m(m_rear)) + 16;
        m_view.upright(Length(), m_plan.low_bed.deck_height, right, m_plan.low_bed.deck.end(),
                       m_plan.words().size(m_plan.low_bed.deck_height));
        const double left = m_view.x(m(m_front)) - 18;
        m_view.upright(Length(), m_plan.loaded.height, left, m_plan.place.machine_from,
                       fmt::format("{} high", m_plan.words().size(m_plan.loaded.height)), true);
    }

    void lengths() const {
        const DeckPlace& p = m_plan.place;
        const Deck& d = m_plan.low_bed.deck;
        double y = m_view.y(Length()) + 26 + row * 0.4;
        if (p.possible) {
            m_view.across(d.start, p.stands_from, y, m_plan.low_bed.deck_height,
                          fmt::format("chalk mark {}", m_plan.words().size(p.stands_from - d.start)), true);
            y += row;
            m_view.across(p.stands_from, p.stands_to, y, m_plan.low_bed.deck_height,
                          m_plan.words().size(p.stands_to - p.stands_from));
            m_view.across(p.stands_to, d.end(), y, m_plan.low_bed.deck_height,
                          m_plan.words().size(d.end() - p.stands_to));
            y += row;
            m_view.across(Length(), p.centre, y, m(plate_height),
                          fmt::format("centre of mass {} behind the kingpin", m_plan.words().size(p.centre)),
                          true);
            y += row;
            window(y);
        } else {
            y += 2 * row;
        }
        y += row;
        m_view.across(Length(), d.start, y, m(plate_height), m_plan.words().size(d.start));
        m_view.across(d.start, d.end(), y, m_plan.low_bed.deck_height,
                      fmt::format("deck {}", m_plan.words().size(d.length)));
        y += row;
        m_view.across(m(m_front), m(m_rear), y, m(0.4),
                      fmt::format("{} over all", m_plan.words().size(m(m_rear - m_front))), true);
    }

    // Where the centre of mass may stand: a bar with the place chosen in it.
    void window(double y) const {
        const DeckPlace& p = m_plan.place;
        const Fill bar{Ink::grey(0.3), Pattern::diagonal, 3, 0.5, white_ink};
        canvas().rectangle({m_view.x(p.from), y - 4, m_view.x(p.to) - m_view.x(p.from), 8}, &bar, &thin_line);
        canvas().line({m_view.x(p.centre), y - 7}, {m_view.x(p.centre), y + 7}, heavy_line);
        Lettering l;
        l.size = 7.5;
        l.align = Align::right;
        l.rise = Rise::middle;
        m_view.word({m_view.x(p.from) - 4, y},
                    fmt::format("centre of mass may stand {}", m_plan.words().range(p.from, p.to)), l);
    }

    const LoadingPlan& m_plan;
    double m_front, m_rear;  // metres behind the kingpin
    ScaledView m_view;
};

}  // namespace

void draw_load_side(Canvas& canvas, const PageBox& box, const LoadingPlan& plan) {
    SideView(canvas, box, plan).draw();
}

}  // namespace loamway
