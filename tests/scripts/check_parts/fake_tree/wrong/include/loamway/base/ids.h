// SPDX-License-Identifier: Apache-2.0
#include <fmt/core.h>
#include <unistd.h>
#include "loamway/plan/plan.h"

struct Id {
    int value;
};
