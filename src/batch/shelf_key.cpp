// SPDX-License-Identifier: Apache-2.0
#include "shelf_key.h"

#include <fmt/format.h>
#include <sys/stat.h>

#include <filesystem>

#include "loamway/base/version.h"
#include "loamway/region/correction.h"
#include "loamway/region/digest.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

constexpr std::size_t digest_digits = 32;

std::string corrections_file(const Shelf& shelf) {
    return shelf.setup().corrections.value_or(corrections_beside(shelf.setup().region));
}

std::string digest_if_there(const std::string& file) {
    std::error_code failed;
    return std::filesystem::exists(file, failed) ? digest_of_file(file) : "none";
}

/// Number, size and time of the file: enough to notice that another has come in its place.
std::string stamp(const std::string& file) {
    struct stat info {};
    if (::stat(file.c_str(), &info) != 0)
        return "none";
    return fmt::format("{} {} {} {}", info.st_ino, info.st_size, info.st_mtim.tv_sec, info.st_mtim.tv_nsec);
}

}  // namespace

bool is_digest(std::string_view text) {
    return text.size() == digest_digits &&
           text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

ShelfKey shelf_key(const Shelf& shelf) {
    const ShelfSetup& setup = shelf.setup();
    std::string all =
        fmt::format("{}\n{}\n{}\n{}\n", program_version(), digest_if_there(corrections_file(shelf)),
                    setup.places ? digest_of_file(*setup.places) : "none", setup.ledger ? "ledger" : "none");
    for (const ShelfProfile& p : shelf.profiles())
        all += fmt::format("{} {} {}\n", p.name, p.low_bed, to_json(p.document));
    return {shelf.region().digest(), digest_of_text(all)};
}

CorrectionsWatch::CorrectionsWatch(const Shelf& shelf)
    : m_file(corrections_file(shelf)), m_stamp(stamp(m_file)) {}

bool CorrectionsWatch::changed() const {
    return stamp(m_file) != m_stamp;
}

}  // namespace loamway
