// SPDX-License-Identifier: Apache-2.0
#include <boost/graph/graph_traits.hpp>
#include "loamway/base/ids.h"
