// Streams an N-Quads file through the mapping into a sink that only counts: rate and peak memory of the importer alone.
//
// Usage: rdf_bench FILE. The figures in RESULTS.md are for a file of 200 MB (see there what it holds).
#include <sys/resource.h>

#include <chrono>
#include <cstdio>

#include "importers/reader.h"

namespace {

class Counting final : public saggar::Sink {
public:
    void put(saggar::Record record, const saggar::Origin&) override { ++counts[record.index()]; }
    std::uint64_t counts[std::variant_size_v<saggar::Record>] = {};
};

}  // namespace

int main(int count, char** arguments) {
    if (count != 2) {
        std::fprintf(stderr, "usage: %s FILE\n", arguments[0]);
        return 2;
    }
    saggar::Problems problems;
    Counting sink;
    const saggar::ReadContext context{saggar::Vocabulary::standard(), ""};
    const auto start = std::chrono::steady_clock::now();
    saggar::read_file(arguments[1], {}, context, sink, problems);
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    rusage use{};
    getrusage(RUSAGE_SELF, &use);
    const double processor = static_cast<double>(use.ru_utime.tv_sec + use.ru_stime.tv_sec) +
                             static_cast<double>(use.ru_utime.tv_usec + use.ru_stime.tv_usec) / 1e6;
    std::printf("%llu things, %llu claims, %llu readings, %zu errors; %.1f s (%.1f s of processor), peak %ld MiB\n",
                static_cast<unsigned long long>(sink.counts[0]), static_cast<unsigned long long>(sink.counts[2]),
                static_cast<unsigned long long>(sink.counts[3]), problems.errors(), seconds, processor, use.ru_maxrss / 1024);
    return problems.any_error() ? 1 : 0;
}
