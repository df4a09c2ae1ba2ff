#include "viz/render/limits.h"

#include <sys/resource.h>

namespace saggar::viz {

void obey(const WorkLimits& limits) {
    const rlimit memory{limits.memory_mib << 20, limits.memory_mib << 20};
    const rlimit cpu{limits.cpu_seconds, limits.cpu_seconds + 1};
    const rlimit core{0, 0};
    setrlimit(RLIMIT_CORE, &core);
    setrlimit(RLIMIT_CPU, &cpu);
#if !defined(__SANITIZE_ADDRESS__)
    setrlimit(RLIMIT_AS, &memory);
#else
    (void)memory;  // AddressSanitizer reserves terabytes of addresses
#endif
}

}  // namespace saggar::viz
