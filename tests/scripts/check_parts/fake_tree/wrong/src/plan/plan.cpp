// SPDX-License-Identifier: Apache-2.0
#include "loamway/plan/plan.h"
#include "loamway/graph/other.h"
#include "loamway/base/ids.h"
#include "loamway/nowhere.h"
#include "../graph/private.h"

struct Id {
    long value;
};
