// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_DEMO_REGION_H
#define LOAMWAY_TESTS_SUPPORT_DEMO_REGION_H

// The invented county as a region file, without heights. Its users link the part that builds regions.

#include <string>

#include "loamway/base/file.h"
#include "loamway/build/build.h"
#include "loamway/profile/recipe.h"
#include "support/test_files.h"

namespace loamway::test {

inline void write_demo_region(const std::string& path) {
    const std::string recipe = source_path("regions/demo.toml");
    write_region(assemble(read_extract(source_path("regions/demo/demo.osm.pbf"), {}),
                          read_recipe(parse_toml(read_text_file(recipe), recipe), recipe), "demo", {}),
                 path);
}

}  // namespace loamway::test

#endif
