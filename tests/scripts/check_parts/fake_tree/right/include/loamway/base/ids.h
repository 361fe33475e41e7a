// SPDX-License-Identifier: Apache-2.0
#include <cstdint>
#include <source_location>
