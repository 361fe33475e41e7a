// SPDX-License-Identifier: Apache-2.0
// Lever rule on a truck with a semitrailer; figures of the haulage model, worked by hand in haul.json.
#include "loamway/haul/axle_statics.h"

#include <gtest/gtest.h>

#include "checks.h"

namespace loamway {
namespace {

using test::number;

TruckAxles model_truck() {
    TruckAxles t;
    t.trailer = Mass::from_tonnes(9.5);
    t.trailer_centre = Length::from_metres(6.4);
    t.trailer_at = Length::from_metres(10.6);
    t.steer = Mass::from_tonnes(5.2);
    t.drive = Mass::from_tonnes(4.0);
    t.wheelbase = Length::from_metres(4.2);
    t.kingpin_ahead = Length::from_metres(0.35);
    t.trailer_limit = Mass::from_tonnes(24);
    t.drive_limit = Mass::from_tonnes(18);
    t.steer_limit = Mass::from_tonnes(7.5);
    t.kingpin_limit = Mass::from_tonnes(15);
    return t;
}
const Mass eighteen = Mass::from_tonnes(18);

TEST(AxleStatics, loads_of_18_tonnes) {
    for (const char* x : {"5.5", "6.5", "7.5"}) {
        const AxleLoads l = axle_loads(model_truck(), eighteen, Length::from_metres(std::stod(x)));
        const std::string at = std::string("loading|axles_18t|xm=") + x + "|";
        EXPECT_NEAR(l.kingpin.tonnes(), number(at + "kingpin"), 1e-7);
        EXPECT_NEAR(l.trailer.tonnes(), number(at + "trailer_group"), 1e-7);
        EXPECT_NEAR(l.steer.tonnes(), number(at + "steer"), 1e-7);
        EXPECT_NEAR(l.drive.tonnes(), number(at + "drive"), 1e-7);
        EXPECT_NEAR(l.gross().tonnes(), number(at + "gross"), 1e-9);
    }
}

TEST(AxleStatics, window_between_kingpin_and_trailer_limits) {
    const DeckWindow w = deck_window(model_truck(), eighteen);
    EXPECT_NEAR(w.from.metres(), number("loading|xm_window_18t_tri24_drive18|xm_min"), 1e-7);
    EXPECT_NEAR(w.to.metres(), number("loading|xm_window_18t_tri24_drive18|xm_max"), 1e-7);
    EXPECT_TRUE(w.open());
    EXPECT_EQ(w.front, Binding::kingpin);
    EXPECT_EQ(w.rear, Binding::trailer);
}

TEST(AxleStatics, closed_window_says_what_binds) {
    TruckAxles t = model_truck();
    t.trailer_limit = t.drive_limit = Mass::from_tonnes(15.42);
    t.steer_limit = Mass::from_tonnes(5.44);
    const DeckWindow w = deck_window(t, eighteen);
    EXPECT_NEAR(w.from.metres(), number("loading|xm_window_18t_tandem15.4_drive15.4|xm_min"), 1e-7);
    EXPECT_NEAR(w.to.metres(), number("loading|xm_window_18t_tandem15.4_drive15.4|xm_max"), 1e-7);
    EXPECT_NEAR(w.kingpin_cap.tonnes(), number("loading|xm_window_18t_tandem15.4_drive15.4|Rk_cap"), 1e-7);
    EXPECT_FALSE(w.open());
    EXPECT_EQ(w.front, Binding::steer);
}

// At the ends of the window the limit named there is met exactly, and none is passed.
TEST(AxleStatics, ends_of_the_window_meet_their_limits) {
    TruckAxles t = model_truck();
    t.drive_limit = Mass::from_tonnes(14);
    const DeckWindow w = deck_window(t, eighteen);
    EXPECT_EQ(w.front, Binding::drive);
    EXPECT_NEAR(axle_loads(t, eighteen, w.from).drive.tonnes(), 14, 1e-9);
    EXPECT_NEAR(axle_loads(t, eighteen, w.to).trailer.tonnes(), 24, 1e-9);
}

TEST(AxleStatics, best_place_shares_the_load_evenly) {
    const TruckAxles t = model_truck();
    const DeckWindow w = deck_window(t, eighteen);
    const Length best = best_place(t, eighteen, w.from, w.to);
    const auto share = [&](Length x) {
        const AxleLoads l = axle_loads(t, eighteen, x);
        return std::max({l.trailer / t.trailer_limit, l.kingpin / t.kingpin_limit, l.drive / t.drive_limit,
                         l.steer / t.steer_limit});
    };
    for (double x = w.from.metres(); x < w.to.metres(); x += 0.01)
        EXPECT_GE(share(Length::from_metres(x)), share(best) - 1e-9) << x;
    EXPECT_EQ(best_place(t, eighteen, w.to, w.to), w.to);
}

TEST(AxleStatics, single_axles_add_up_and_stand_in_order) {
    const TruckAxles t = model_truck();
    const AxleLoads l = axle_loads(t, eighteen, Length::from_metres(6.5));
    const std::vector<AxleAt> axles = single_axles(t, l);
    ASSERT_EQ(axles.size(), 6u);
    Mass sum;
    for (std::size_t i = 0; i < axles.size(); ++i) {
        sum += axles[i].load;
        EXPECT_TRUE(i == 0 || axles[i].at > axles[i - 1].at);
    }
    EXPECT_NEAR(sum.tonnes(), 36.7, 1e-9);
    EXPECT_NEAR(axles[0].at.metres(), -3.85, 1e-9);
    EXPECT_NEAR(axles[4].at.metres(), 10.6, 1e-9);
}

}  // namespace
}  // namespace loamway
