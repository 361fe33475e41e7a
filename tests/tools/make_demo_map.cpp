// SPDX-License-Identifier: Apache-2.0
// Developer's tool: writes the invented county of the demo region, or a large prairie grid for benchmarks.
#include <charconv>
#include <cstdint>
#include <exception>
#include <fstream>
#include <iostream>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

#include "county.h"
#include "hills.h"
#include "prairie.h"

namespace {

constexpr const char* usage =
    "usage: make_demo_map [--seed N] [--places FILE.geojson] [--hills FILE.tif] -o FILE.osm.pbf     the demo county\n"
    "       make_demo_map --grid SECTIONS [--seed N] -o FILE.osm.pbf             a prairie of SECTIONS x SECTIONS\n";

struct Options {
    std::string out;
    std::string places;
    std::string hills;
    std::uint64_t seed = 1;
    std::optional<std::uint32_t> grid;
};

template <typename Number>
Number number(std::string_view text, std::string_view option) {
    Number n{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), n);
    if (error != std::errc{} || end != text.data() + text.size()) {
        throw std::invalid_argument(std::string(option) + " wants a whole number, not '" + std::string(text) +
                                    "'");
    }
    return n;
}

Options read_options(int argc, char** argv) {
    Options options;
    for (int k = 1; k < argc; ++k) {
        const std::string_view option = argv[k];
        if (k + 1 == argc) {
            throw std::invalid_argument("nothing follows '" + std::string(option) + "'");
        }
        const std::string_view value = argv[++k];
        if (option == "-o") {
            options.out = value;
        } else if (option == "--places") {
            options.places = value;
        } else if (option == "--hills") {
            options.hills = value;
        } else if (option == "--seed") {
            options.seed = number<std::uint64_t>(value, option);
        } else if (option == "--grid") {
            options.grid = number<std::uint32_t>(value, option);
        } else {
            throw std::invalid_argument("unknown option '" + std::string(option) + "'");
        }
    }
    if (options.out.empty()) {
        throw std::invalid_argument("no -o FILE");
    }
    if (options.grid && (!options.places.empty() || !options.hills.empty())) {
        throw std::invalid_argument(
            "a prairie has no named places and no hills (leave out --places and --hills)");
    }
    return options;
}

void run(const Options& options) {
    if (options.grid) {
        const loamway::PrairieCount count = loamway::write_prairie(*options.grid, options.seed, options.out);
        std::cerr << count.nodes << " nodes, " << count.ways << " ways\n";
        return;
    }
    const loamway::County county = loamway::draw_county(options.seed);
    loamway::write_county(county, options.out);
    if (!options.hills.empty()) {
        loamway::write_hills(loamway::draw_hills(county), options.hills);
    }
    if (!options.places.empty()) {
        std::ofstream places(options.places, std::ios::binary);
        places << loamway::county_places(county);
        if (!places.flush()) {
            throw std::runtime_error("cannot write " + options.places);
        }
    }
}

}  // namespace

int main(int argc, char** argv) {
    try {
        run(read_options(argc, argv));
    } catch (const std::invalid_argument& e) {
        std::cerr << "make_demo_map: " << e.what() << '\n' << usage;
        return 2;
    } catch (const std::exception& e) {
        std::cerr << "make_demo_map: " << e.what() << '\n';
        return 1;
    }
    return 0;
}
