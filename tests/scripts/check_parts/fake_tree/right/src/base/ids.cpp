// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/ids.h"
#include "detail.h"
#include <fmt/core.h>
#include <sys/mman.h>
  #  include <xxhash.h>
// #include <curl/curl.h> is a comment

namespace {
struct Detail {
    int hidden;
};
}  // namespace
