// Pictures from the command line: start to file, for a thing with about 20 neighbours and one with about 300.
#include <optional>

#include "kg/store/store.h"
#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"
#include "tests/bench/synthetic.h"

namespace saggar::bench {

namespace {

// The first thing whose number of claims lies between the bounds.
std::optional<std::string> thing_with(const Snapshot& snapshot, const Sizes& sizes, std::size_t least,
                                      std::size_t most) {
    const std::pair<const char*, std::uint64_t> kinds[] = {
        {"shape", sizes.shapes}, {"company", sizes.companies}, {"treatment", sizes.treatments}, {"item", sizes.items}};
    for (const auto& [kind, count] : kinds) {
        for (std::uint64_t i = 0; i < count && i < 5000; ++i) {
            const auto id = snapshot.find(key_of(kind, i));
            if (!id) continue;
            const std::size_t claims = snapshot.claims_of(*id).size() + snapshot.claims_about(*id).size();
            if (claims >= least && claims <= most) return key_of(kind, i);
        }
    }
    return std::nullopt;
}

double draw_ms(const std::filesystem::path& graph, const std::string& key, const std::string& file) {
    const std::string saggar = std::string(SAGGAR_BIN_DIR) + "/saggar";
    std::vector<double> times;
    for (int i = 0; i < 15; ++i) {
        const ProgramRun run =
            run_program({saggar, "--graph", graph.string(), "draw", "around", key, "--output", file}, false);
        if (run.status == 0) times.push_back(run.seconds * 1e3);
    }
    return percentile(times, .5);
}

}  // namespace

Numbers pictures(std::uint64_t claims, const std::filesystem::path& folder) {
    std::optional<std::string> small, large;
    {
        const Store store = Store::open(folder, Access::read);
        const auto snapshot = store.snapshot();
        const Sizes sizes(claims);
        small = thing_with(*snapshot, sizes, 18, 20);
        large = thing_with(*snapshot, sizes, 250, 390);
    }
    Numbers numbers;
    const auto file = [&folder](const char* name) { return (folder.parent_path() / name).string(); };
    if (small) {
        numbers["small_svg_ms"] = draw_ms(folder, *small, file("small.svg"));
        numbers["small_pdf_ms"] = draw_ms(folder, *small, file("small.pdf"));
        numbers["small_png_ms"] = draw_ms(folder, *small, file("small.png"));
    }
    if (large) numbers["large_svg_ms"] = draw_ms(folder, *large, file("large.svg"));
    return numbers;
}

}  // namespace saggar::bench
