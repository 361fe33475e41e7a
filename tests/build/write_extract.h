// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BUILD_WRITE_EXTRACT_H
#define LOAMWAY_TESTS_BUILD_WRITE_EXTRACT_H

#include <string>
#include <string_view>

namespace loamway::test {

/// Writes OPL text as an extract of the form that the name of `path` says. `date` goes into the header as
/// osmosis_replication_timestamp when it is not empty (PBF only). `form` overrules the name:
/// "osm.pbf,pbf_compression=none".
void write_extract(std::string_view opl, const std::string& path, const std::string& date = {},
                   const std::string& form = {});

}  // namespace loamway::test

#endif
