// SPDX-License-Identifier: Apache-2.0
#include "memory.h"

#include <cstdlib>  // defines __GLIBC__ where it holds

#ifdef __GLIBC__
#include <malloc.h>
#endif

namespace loamway {

void trim_memory() {
#ifdef __GLIBC__
    ::malloc_trim(0);
#endif
}

}  // namespace loamway
