// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/boost_graph.h"
#include <loamway/base/ids.h>
#include <boost/version.hpp>

struct Later;
namespace {
struct Detail {
    long hidden;
};
}  // namespace
