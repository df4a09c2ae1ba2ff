// Streams an N-Quads file through the mapping into a sink that only counts: rate and peak memory of the importer alone.
//
// Usage: rdf_bench FILE; rdf_bench write FILE MEGABYTES makes one: invented pieces in CIDOC CRM, ten to a named graph with its source, each with a
// name, a production with a maker of its own and a date between two days, and a shape.
#include <fmt/format.h>
#include <sys/resource.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "importers/reader.h"

namespace {

class Counting final : public saggar::Sink {
public:
    void put(saggar::Record record, const saggar::Origin&) override { ++counts[record.index()]; }
    std::uint64_t counts[std::variant_size_v<saggar::Record>] = {};
};

// One graph of ten pieces.
std::string graph_of_pieces(unsigned number) {
    constexpr std::string_view crm = "http://www.cidoc-crm.org/cidoc-crm/";
    constexpr std::string_view rdf_type = "<http://www.w3.org/1999/02/22-rdf-syntax-ns#type>";
    constexpr std::string_view rdfs_label = "<http://www.w3.org/2000/01/rdf-schema#label>";
    constexpr std::string_view day = "^^<http://www.w3.org/2001/XMLSchema#date>";
    const auto at = [](std::string_view kind, unsigned n) { return fmt::format("<https://cabinet.example/{}-{}>", kind, n); };
    const std::string graph = at("record", number);
    std::string out;
    const auto say = [&](const std::string& subject, std::string_view property, const std::string& object) {
        if (property.front() == '<')
            out += fmt::format("{} {} {} {} .\n", subject, property, object, graph);
        else
            out += fmt::format("{} <{}{}> {} {} .\n", subject, crm, property, object, graph);
    };
    for (unsigned piece = number * 10; piece < number * 10 + 10; ++piece) {
        const unsigned year = 1860 + piece % 90;
        say(at("piece", piece), rdf_type, fmt::format("<{}E22_Human-Made_Object>", crm));
        say(at("piece", piece), rdfs_label, fmt::format("\"Covered jug, tray {}\"@en", piece));
        say(at("piece", piece), "P108i_was_produced_by", at("making", piece));
        say(at("making", piece), "P14_carried_out_by", at("hand", piece));
        say(at("hand", piece), rdf_type, fmt::format("<{}E21_Person>", crm));
        say(at("hand", piece), rdfs_label, fmt::format("\"Hand {}\"", piece));
        say(at("making", piece), "P4_has_time-span", fmt::format("_:t{}", piece));
        say(fmt::format("_:t{}", piece), "P82a_begin_of_the_begin", fmt::format("\"{}-01-01\"{}", year, day));
        say(fmt::format("_:t{}", piece), "P82b_end_of_the_end", fmt::format("\"{}-12-31\"{}", year + 3, day));
    }
    out += fmt::format("{} <http://www.w3.org/ns/prov#hadPrimarySource> {} .\n", graph, at("index", number % 50));
    return out;
}

int write_file(const char* path, std::uint64_t bytes) {
    std::FILE* const file = std::fopen(path, "wb");
    if (!file) return 2;
    std::uint64_t written = 0;
    for (unsigned number = 0; written < bytes; ++number) {
        const std::string lines = graph_of_pieces(number);
        written += std::fwrite(lines.data(), 1, lines.size(), file);
    }
    return std::fclose(file) == 0 ? 0 : 2;
}

}  // namespace

int main(int count, char** arguments) {
    if (count == 4 && std::string_view(arguments[1]) == "write")
        return write_file(arguments[2], std::strtoull(arguments[3], nullptr, 10) * 1'000'000);
    if (count != 2) {
        std::fprintf(stderr, "usage: %s FILE, or write FILE MEGABYTES\n", arguments[0]);
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
