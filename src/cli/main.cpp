// SPDX-License-Identifier: Apache-2.0
#include "loamway/cli/cli.h"

int main(int argc, char** argv) {
    return loamway::run(argc, argv);
}
