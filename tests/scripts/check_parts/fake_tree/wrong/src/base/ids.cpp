// SPDX-License-Identifier: Apache-2.0
#include <vector>
#include <boost/version.hpp>
#include <string.h>
#include "missing.h"
#include HEADER_BY_MACRO
