// Stopwatch, percentiles, memory, and runs of a program: what every measurement needs.
#pragma once

#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

namespace saggar::bench {

class Stopwatch {
public:
    double seconds() const {
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin_).count();
    }

private:
    std::chrono::steady_clock::time_point begin_ = std::chrono::steady_clock::now();
};

// The value below which this part (0..1) of the samples lies.
inline double percentile(std::vector<double> samples, double part) {
    if (samples.empty()) return 0;
    const auto at = std::min(samples.size() - 1, static_cast<std::size_t>(part * static_cast<double>(samples.size())));
    std::nth_element(samples.begin(), samples.begin() + static_cast<std::ptrdiff_t>(at), samples.end());
    return samples[at];
}

// Most memory this process has held, in MiB.
double peak_mib();
// Processor time of this process so far, all threads: steadier than the clock where others use the machine too.
double processor_seconds();

struct ProgramRun {
    int status = -1;
    double seconds = 0;
    double processor_seconds = 0;
    std::string output;  // standard output
};
// Runs a program and waits for it. `keep_output` false: its output goes nowhere.
ProgramRun run_program(const std::vector<std::string>& words, bool keep_output);

}  // namespace saggar::bench
