// saggar_bench all [N...]             measures with N claims (100 000 and 1 000 000), writes tests/bench/RESULTS.md
// saggar_bench MEASUREMENT N FOLDER   one measurement; prints its numbers
//
// Every measurement runs in a process of its own. Folders are made below the temporary directory and removed.
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <iostream>
#include <iterator>

#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"
#include "tests/bench/results.h"

namespace {

using namespace saggar::bench;

Numbers measure(const std::string& what, std::uint64_t claims, const std::filesystem::path& folder) {
    if (what == "make") return make_only(claims);
    if (what == "load") return load(claims, folder / "graph");
    if (what == "raw") return raw_ingestion(folder / "graph", folder / "raw");
    if (what == "sqlite") return sqlite(claims, folder / "sqlite");
    if (what == "lookup") return lookup(claims, folder / "graph");
    if (what == "chains") return chains(claims, folder / "graph");
    if (what == "dates") return dates(claims, folder / "graph");
    if (what == "shapes") return shapes(claims, folder / "graph");
    if (what == "command") return command(claims, folder / "graph");
    if (what == "pictures") return pictures(claims, folder / "graph");
    if (what == "own-table") return own_table(claims, folder / "own-table");
    if (what == "other-table") return other_table(claims, folder / "other-table");
    if (what == "weighing") return weighing(claims, folder / "weighing");
    throw std::runtime_error("unknown measurement: " + what);
}

Results measure_size(const std::string& self, std::uint64_t claims) {
    std::string folder = (std::filesystem::temp_directory_path() / "saggar-bench-XXXXXX").string();
    if (!mkdtemp(folder.data())) throw std::runtime_error("no temporary folder");
    Results results;
    for (const std::string what :
         {"make", "load", "raw", "sqlite", "lookup", "chains", "dates", "command", "pictures"}) {
        std::cerr << claims << " claims: " << what << '\n';
        const ProgramRun run = run_program({self, what, std::to_string(claims), folder}, true);
        if (run.status != 0) {
            std::filesystem::remove_all(folder);
            throw std::runtime_error(what + " failed");
        }
        results[what] = read_numbers(run.output);
        std::filesystem::remove_all(folder + "/raw");
        std::filesystem::remove_all(folder + "/sqlite");
    }
    std::filesystem::remove_all(folder);
    return results;
}

// The tables come first in the page; sections written by hand, from the first heading on, stay.
void write_page(const std::string& tables) {
    const std::string file = std::string(SAGGAR_SOURCE_DIR) + "/tests/bench/RESULTS.md";
    std::ifstream before(file, std::ios::binary);
    const std::string old{std::istreambuf_iterator<char>(before), std::istreambuf_iterator<char>()};
    const auto by_hand = old.find("\n## ");
    std::ofstream(file, std::ios::binary) << tables << (by_hand == std::string::npos ? "" : old.substr(by_hand));
}

int run(int argc, char** argv) {
    const std::vector<std::string> words(argv + 1, argv + argc);
    if (words.size() == 3 && words[0] != "all") {
        print(measure(words[0], std::stoull(words[1]), words[2]));
        return 0;
    }
    if (words.empty() || words[0] != "all") {
        std::cerr << "usage: saggar_bench all [N...] | saggar_bench MEASUREMENT N FOLDER\n";
        return 2;
    }
    std::vector<std::uint64_t> sizes;
    for (std::size_t i = 1; i < words.size(); ++i) sizes.push_back(std::stoull(words[i]));
    const bool standard = sizes.empty();
    if (standard) sizes = {100'000, 1'000'000};
    std::map<std::uint64_t, Results> by_size;
    for (const std::uint64_t claims : sizes)
        by_size[claims] = measure_size(std::filesystem::read_symlink("/proc/self/exe"), claims);
    const std::string page = results_page(by_size);
    std::cout << page;
    if (standard) write_page(page);
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    try {
        return run(argc, argv);
    } catch (const std::exception& fault) {
        std::cerr << "saggar_bench: " << fault.what() << '\n';
        return 1;
    }
}
