#include "tests/bench/results.h"

#include <fmt/format.h>

#include <fstream>
#include <functional>
#include <thread>
#include <vector>

namespace saggar::bench {

namespace {

std::string first_value(const char* file, const std::string& field) {
    std::ifstream in(file);
    for (std::string line; std::getline(in, line);) {
        if (line.rfind(field, 0) != 0) continue;
        const std::size_t colon = line.find_first_of(":=");
        if (colon == std::string::npos) continue;
        const std::size_t begin = line.find_first_not_of(" \t\"", colon + 1);
        const std::size_t end = line.find_last_not_of(" \t\"");
        if (begin != std::string::npos) return line.substr(begin, end - begin + 1);
    }
    return "unknown";
}

// The time a load takes without the making of the records.
double net(const Results& results, const char* measurement, const char* time = "seconds") {
    return results.at(measurement).at(time) - results.at("make").at(time);
}
double rate(std::uint64_t claims, double seconds) { return static_cast<double>(claims) / seconds; }

struct Row {
    const char* name;
    std::function<std::string(std::uint64_t, const Results&)> value;
    const char* target;
};

std::string thousands(double number) {
    std::string digits = fmt::format("{:.0f}", number);
    for (int at = static_cast<int>(digits.size()) - 3; at > 0; at -= 3) digits.insert(static_cast<std::size_t>(at), " ");
    return digits;
}

auto number(const char* measurement, const char* name, const char* format) {
    return [=](std::uint64_t, const Results& r) { return fmt::format(fmt::runtime(format), r.at(measurement).at(name)); };
}

std::vector<Row> rows() {
    using R = const Results&;
    return {
        {"evidence edges", [](std::uint64_t, R r) { return thousands(r.at("load").at("evidence")); }, ""},
        {"entities", [](std::uint64_t, R r) { return thousands(r.at("load").at("entities")); }, ""},
        {"key-value pairs", [](std::uint64_t, R r) { return thousands(r.at("raw").at("pairs")); }, ""},
        {"**Loading**, claims a second, making the records not counted", [](std::uint64_t, R) { return std::string(); }, ""},
        {"bulk load", [](std::uint64_t n, R r) { return thousands(rate(n, net(r, "load"))); }, ""},
        {"raw table files of the same pairs, sorted and ingested, two threads",
         [](std::uint64_t n, R r) { return thousands(rate(n, r.at("raw").at("sorting_seconds"))); }, ""},
        {"raw table files of the same pairs, already in order, one thread",
         [](std::uint64_t n, R r) { return thousands(rate(n, r.at("raw").at("one_thread_seconds"))); }, ""},
        {"raw table files of the same pairs, already in order, two threads",
         [](std::uint64_t n, R r) { return thousands(rate(n, r.at("raw").at("seconds"))); }, ""},
        {"SQLite, same indexes, one transaction, indexes last",
         [](std::uint64_t n, R r) { return thousands(rate(n, net(r, "sqlite"))); }, ""},
        {"bulk load / raw that sorts", [](std::uint64_t, R r) { return fmt::format("{:.2f}", r.at("raw").at("sorting_seconds") / net(r, "load")); },
         "0.5 or more"},
        {"bulk load / raw in order, one thread",
         [](std::uint64_t, R r) { return fmt::format("{:.2f}", r.at("raw").at("one_thread_seconds") / net(r, "load")); }, ""},
        {"bulk load / raw in order, two threads",
         [](std::uint64_t, R r) { return fmt::format("{:.2f}", r.at("raw").at("seconds") / net(r, "load")); }, ""},
        {"bulk load / SQLite", [](std::uint64_t, R r) { return fmt::format("{:.2f}", net(r, "sqlite") / net(r, "load")); },
         "more than 1"},
        {"processor seconds: bulk load, raw that sorts, raw in order, SQLite",
         [](std::uint64_t, R r) {
             return fmt::format("{:.2f}, {:.2f}, {:.2f}, {:.2f}", net(r, "load", "processor_seconds"),
                                r.at("raw").at("sorting_processor_seconds"), r.at("raw").at("processor_seconds"), net(r, "sqlite", "processor_seconds"));
         },
         ""},
        {"peak memory of the load, MiB", number("load", "peak_mib", "{:.0f}"), "under 1024"},
        {"on disk, MiB", number("load", "disk_mib", "{:.0f}"), ""},
        {"**One entity with its evidence**, warm, in process, microseconds", [](std::uint64_t, R) { return std::string(); }, ""},
        {"bare scan of its claims and evidence, p50", number("lookup", "raw_p50", "{:.1f}"), ""},
        {"its claims and evidence as records, p50", number("lookup", "own_p50", "{:.1f}"), ""},
        {"the same with labels, sources and the claims about it, p50", number("lookup", "all_p50", "{:.1f}"), "under 150"},
        {"the same, p95", number("lookup", "all_p95", "{:.1f}"), ""},
        {"records / bare scan",
         [](std::uint64_t, R r) { return fmt::format("{:.2f}", r.at("lookup").at("own_p50") / r.at("lookup").at("raw_p50")); },
         "2 or less"},
        {"claims and readings of the average entity",
         [](std::uint64_t, R r) {
             return fmt::format("{:.1f}, {:.1f}", r.at("lookup").at("claims_each"), r.at("lookup").at("readings_each"));
         },
         ""},
        {"**Best chain of four steps to a buyer**, microseconds, p50", [](std::uint64_t, R) { return std::string(); }, ""},
        {"view, read from the store", number("chains", "four_view_first_p50", "{:.1f}"), ""},
        {"view, asked again", number("chains", "four_view_again_p50", "{:.1f}"), ""},
        {"compact copy in memory", number("chains", "four_csr_p50", "{:.1f}"), ""},
        {"view again / compact copy",
         [](std::uint64_t, R r) {
             return fmt::format("{:.2f}", r.at("chains").at("four_view_again_p50") / r.at("chains").at("four_csr_p50"));
         },
         "3 or less"},
        {"view from the store / compact copy",
         [](std::uint64_t, R r) {
             return fmt::format("{:.2f}", r.at("chains").at("four_view_first_p50") / r.at("chains").at("four_csr_p50"));
         },
         ""},
        {"vertices settled", number("chains", "four_settled_p50", "{:.0f}"), ""},
        {"**Best chain to any buyer over seven relations**, microseconds, p50", [](std::uint64_t, R) { return std::string(); }, ""},
        {"view, read from the store", number("chains", "any_view_first_p50", "{:.1f}"), ""},
        {"view, asked again", number("chains", "any_view_again_p50", "{:.1f}"), ""},
        {"compact copy in memory", number("chains", "any_csr_p50", "{:.1f}"), ""},
        {"vertices settled", number("chains", "any_settled_p50", "{:.0f}"), ""},
        {"the ten best, compact copy", number("chains", "ten_csr_p50", "{:.1f}"), ""},
        {"the ten best, view read from the store", number("chains", "ten_view_first_p50", "{:.1f}"), ""},
        {"**Whole graph**", [](std::uint64_t, R) { return std::string(); }, ""},
        {"making the compact copy, ms", number("chains", "csr_build_ms", "{:.0f}"), ""},
        {"strong components of everything, compact copy, ms", number("chains", "components_csr_ms", "{:.1f}"), ""},
        {"strong components of everything, view, ms", number("chains", "components_view_ms", "{:.0f}"), ""},
        {"**Trace, five best chains weighed together**, ms", [](std::uint64_t, R) { return std::string(); }, ""},
        {"p50", number("chains", "trace_p50_ms", "{:.1f}"), ""},
        {"p95", number("chains", "trace_p95_ms", "{:.1f}"), ""},
        {"**Dating**, in process, ms", [](std::uint64_t, R) { return std::string(); }, ""},
        {"a piece, p50", number("dates", "pieces_p50_ms", "{:.2f}"), ""},
        {"a shape with this many limits in reach (median of those with 1 000 to 2 000)",
         number("dates", "shapes_limits_p50", "{:.0f}"), ""},
        {"reading them, p50", number("dates", "shapes_gather_p50_ms", "{:.1f}"), ""},
        {"the whole answer, p50", number("dates", "shapes_p50_ms", "{:.1f}"), "under 50"},
        {"the whole answer, p95", number("dates", "shapes_p95_ms", "{:.1f}"), ""},
        {"contradictions settled in it, median", number("dates", "shapes_contradictions_p50", "{:.0f}"), ""},
        {"**The command, start to answer**, ms, p50", [](std::uint64_t, R) { return std::string(); }, ""},
        {"`saggar show`", number("command", "show_p50_ms", "{:.1f}"), "under 40"},
        {"`saggar show`, processor time", number("command", "show_processor_ms", "{:.1f}"), ""},
        {"`saggar trace`, best chain from a line to a buyer", number("command", "trace_p50_ms", "{:.1f}"), ""},
        {"`saggar trace`, processor time", number("command", "trace_processor_ms", "{:.1f}"), ""},
        {"`saggar draw`, about 20 boxes, SVG", number("pictures", "small_svg_ms", "{:.0f}"), "under 60"},
        {"the same as PDF", number("pictures", "small_pdf_ms", "{:.0f}"), ""},
        {"the same as PNG at 300 dots to the inch", number("pictures", "small_png_ms", "{:.0f}"), ""},
        {"`saggar draw`, about 300 boxes, SVG", number("pictures", "large_svg_ms", "{:.0f}"), "under 1500"},
    };
}

}  // namespace

std::string results_page(const std::map<std::uint64_t, Results>& by_size) {
    std::string page =
        "# Measurements\n\n"
        "Written by `bin/saggar_bench all` (configure with `-DSAGGAR_BENCH=ON`). The graph is synthetic and seeded\n"
        "(`synthetic.h`). Absolute figures move from machine to machine; compare within one run.\n\n";
    page += fmt::format("- Machine: {}, {} processors, {:.0f} GiB, {}\n", first_value("/proc/cpuinfo", "model name"),
                        std::thread::hardware_concurrency(), std::stod(first_value("/proc/meminfo", "MemTotal")) / (1 << 20),
                        first_value("/etc/os-release", "PRETTY_NAME"));
    std::string load;
    std::getline(std::ifstream("/proc/loadavg"), load, ' ');
    page += fmt::format("- Build: {}, {}\n", SAGGAR_COMPILER, SAGGAR_BUILD);
    page += fmt::format("- Load average at the end: {}. Above the number of processors others used the machine too: clock\n"
                        "  times are then too long, processor times hold better\n\n",
                        load);
    page += "| |";
    for (const auto& size : by_size) page += fmt::format(" {} claims |", thousands(static_cast<double>(size.first)));
    page += " target |\n|---|";
    for (std::size_t i = 0; i <= by_size.size(); ++i) page += "---|";
    page += '\n';
    for (const Row& row : rows()) {
        page += fmt::format("| {} |", row.name);
        for (const auto& size : by_size) page += fmt::format(" {} |", row.value(size.first, size.second));
        page += fmt::format(" {} |\n", row.target);
    }
    return page;
}

}  // namespace saggar::bench
