// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/canvas.h"

#include <gtest/gtest.h>

#include <string>
#include <thread>

#include "loamway/base/error.h"
#include "picture_reading.h"

using namespace loamway;

namespace {

CanvasSetup small(PictureFormat format) {
    CanvasSetup setup;
    setup.format = format;
    setup.width = 200;
    setup.height = 100;
    setup.title = "Stop sheet <1>";
    setup.date = Instant{1784030400};  // 2026-07-14T12:00:00Z
    setup.dots_per_inch = 72;
    return setup;
}

/// One of everything.
std::string drawing(PictureFormat format) {
    Canvas c(small(format));
    const Fill hatched{.ink = black_ink, .pattern = Pattern::crossed, .spacing = 3, .ground = Ink::grey(0.9)};
    const Stroke thin{.ink = black_ink, .width = 0.5, .dash = {2, 1}};
    c.rectangle({10, 10, 40, 30}, &hatched, &thin, 4);
    c.circle({80, 25}, 12, &hatched, nullptr);
    c.arc({80, 25}, 15, 0, 90, thin);
    {
        const Canvas::Frame frame(c);
        c.move(100, 50);
        c.rotate(30);
        c.scale(2);
        c.clip({0, 0, 40, 20});
        c.text({0, 0}, "turned", {.size = 6});
    }
    c.text({10, 60}, "Straße über den Bach", {.size = 8, .bold = true, .halo = 1});
    c.qr_code({150, 50, 45, 45}, "geo:53.5,13.2");
    c.link({150, 50, 45, 45}, "geo:53.5,13.2");
    c.next_page();
    c.text({10, 10}, "second page", {});
    return c.finish();
}

TEST(Canvas, TheSameCallsGiveTheSameBytes) {
    for (const PictureFormat f : {PictureFormat::pdf, PictureFormat::svg, PictureFormat::png})
        EXPECT_TRUE(drawing(f) == drawing(f));
}

TEST(Canvas, ThreadsDrawSideBySide) {
    const std::string expected = drawing(PictureFormat::pdf);
    std::vector<std::string> made(4);
    {
        std::vector<std::jthread> threads;
        for (std::string& m : made)
            threads.emplace_back([&m] { m = drawing(PictureFormat::pdf); });
    }
    for (const std::string& m : made)
        EXPECT_TRUE(m == expected);
}

TEST(Canvas, PdfTextCanBeReadAndPagesCounted) {
    const PdfRead pdf = read_pdf(drawing(PictureFormat::pdf));
    EXPECT_EQ(pdf.pages, 2);
    EXPECT_EQ(pdf.title, "Stop sheet <1>");
    EXPECT_NE(pdf.text.find("Straße über den Bach"), std::string::npos) << pdf.text;
    EXPECT_NE(pdf.text.find("second page"), std::string::npos) << pdf.text;
    EXPECT_EQ(pdf.complaints, "");
}

TEST(Canvas, PdfHasTheDateAndLanguageGivenAndNoAuthor) {
    const std::string pdf = drawing(PictureFormat::pdf);
    EXPECT_NE(pdf.find("/CreationDate (20260714120000"), std::string::npos);
    EXPECT_NE(pdf.find("/Lang (en)"), std::string::npos);
    EXPECT_EQ(pdf.find("/Author"), std::string::npos);
    EXPECT_NE(pdf.find("geo:53.5,13.2"), std::string::npos);  // the link
}

TEST(Canvas, SvgSaysItsTextInItsDescription) {
    const std::string svg = drawing(PictureFormat::svg);
    EXPECT_NE(svg.find("<title>Stop sheet &lt;1&gt;</title>"), std::string::npos);
    EXPECT_NE(svg.find("Straße über den Bach\nsecond page\n</desc>"), std::string::npos);
    EXPECT_NE(svg.find("height=\"212pt\""), std::string::npos) << svg.substr(0, 400);  // two pages and a gap
}

TEST(Canvas, PngShowsWhatWasDrawn) {
    Canvas c(small(PictureFormat::png));
    const Fill red{.ink = {1, 0, 0, 1}};
    c.rectangle({10, 10, 20, 20}, &red, nullptr);
    const Fill lines{.ink = black_ink, .pattern = Pattern::horizontal, .spacing = 10, .weight = 2};
    c.rectangle({100, 0, 100, 100}, &lines, nullptr);
    const PngRead png = read_png(c.finish());
    EXPECT_EQ(png.width, 200);
    EXPECT_EQ(png.height, 100);
    EXPECT_EQ(png.pixel(20, 20), 0xff0000u);
    EXPECT_EQ(png.pixel(5, 5), 0xffffffu);
    EXPECT_EQ(png.pixel(150, 50), 0x000000u);  // on a line
    EXPECT_EQ(png.pixel(150, 55), 0xffffffu);  // between two
}

TEST(Canvas, TextIsMeasuredWrappedAndCut) {
    const Canvas c(small(PictureFormat::pdf));
    const TextExtent word = c.measure("lubricate", {.size = 10});
    EXPECT_GT(word.width, 40);
    EXPECT_LT(word.width, 60);
    EXPECT_NEAR(c.measure("lubricate", {.size = 20}).width, 2 * word.width, 0.1);
    const TextExtent wrapped = c.measure("one two three four five six", {.size = 10, .width = 60});
    EXPECT_GT(wrapped.lines, 2);
    EXPECT_LE(wrapped.width, 60.01);
    EXPECT_FALSE(wrapped.cut);
    const TextExtent cut =
        c.measure("one two three four five six", {.size = 10, .width = 60, .most_lines = 1});
    EXPECT_EQ(cut.lines, 1);
    EXPECT_TRUE(cut.cut);
    EXPECT_EQ(c.measure("a\nb", {.size = 10}).lines, 2);
}

TEST(Canvas, AStrangersTextDisturbsNothing) {
    Canvas c(small(PictureFormat::pdf));
    c.text({10, 10}, std::string_view("a\x01\xff\xc3 b\0c", 8), {});
    c.text({10, 30}, "", {});
    c.text({10, 50}, "שלום", {.width = 100, .most_lines = 1});
    EXPECT_EQ(read_pdf(c.finish()).pages, 1);
}

TEST(Canvas, AQrCodeIsReadableBlackOnWhite) {
    Canvas c(small(PictureFormat::png));
    const Fill grey{.ink = Ink::grey(0.5)};
    c.rectangle({0, 0, 200, 100}, &grey, nullptr);
    // Version 1 has 21 modules and four of white on each side: 29 modules of three points.
    c.qr_code({0, 0, 87, 87}, "geo:53.5,13.2");
    const PngRead png = read_png(c.finish());
    EXPECT_EQ(png.pixel(5, 5), 0xffffffu);
    // The finder pattern's ring, gap and core.
    EXPECT_EQ(png.pixel(13, 13), 0x000000u);
    EXPECT_EQ(png.pixel(16, 16), 0xffffffu);
    EXPECT_EQ(png.pixel(22, 22), 0x000000u);
    EXPECT_EQ(png.pixel(100, 50), 0x808080u);
}

TEST(Canvas, RefusesWhatCannotBeDrawn) {
    CanvasSetup setup = small(PictureFormat::png);
    setup.width = 1e6;
    EXPECT_THROW(Canvas{setup}, Error);
    Canvas c(small(PictureFormat::pdf));
    EXPECT_THROW(c.qr_code({0, 0, 50, 50}, std::string(5000, 'x')), Error);
    static_cast<void>(c.finish());
    EXPECT_THROW(c.text({0, 0}, "late", {}), Error);
}

}  // namespace
