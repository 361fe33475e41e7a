// SPDX-License-Identifier: Apache-2.0
#include "write_extract.h"

#include <osmium/io/any_output.hpp>
#include <osmium/opl.hpp>
#include <sstream>

namespace loamway::test {

void write_extract(std::string_view opl, const std::string& path, const std::string& date,
                   const std::string& form) {
    osmium::io::Header header;
    if (!date.empty())
        header.set("osmosis_replication_timestamp", date);
    osmium::io::Writer writer(osmium::io::File(path, form), header, osmium::io::overwrite::allow);
    std::istringstream lines{std::string(opl)};
    for (std::string line; std::getline(lines, line);) {
        osmium::memory::Buffer buffer{1024, osmium::memory::Buffer::auto_grow::yes};
        osmium::opl_parse(line.c_str(), buffer);
        writer(std::move(buffer));
    }
    writer.close();
}

}  // namespace loamway::test
