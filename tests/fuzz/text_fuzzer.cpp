// SPDX-License-Identifier: Apache-2.0
// Any bytes as JSON and as TOML: refused, or a tree that is written as JSON and reads back the same.

#include "loamway/text/value.h"
#include "target.h"

namespace {

using namespace loamway;

void write_and_read(const Value& value) {
    const std::string once = to_json(value);
    fuzz::promise(once.find('\n') == std::string::npos, "one line is not one line");
    fuzz::promise(to_json(parse_json(once, "once")) == once, "a document that does not read back");
    fuzz::promise(to_json(parse_json(to_json(value, 2), "indented")) == once, "blanks change a document");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = fuzz::text_of(data, size);
    Value value;
    if (fuzz::accepts([&] { value = parse_json(text, "fuzz"); }))
        write_and_read(value);
    if (fuzz::accepts([&] { value = parse_toml(text, "fuzz"); }))
        write_and_read(value);
    return 0;
}
