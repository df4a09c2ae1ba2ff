// The pictures of examples/gallery, made by its own script from the example, looked at one by one: nothing overlaps,
// nothing is crossed or cut; and the stored PNG files are those the script names.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "tests/app/command.h"
#include "tests/viz/drawn.h"

namespace fs = std::filesystem;
using saggar::testing::CommandGraph;
using saggar::testing::faults_of_svg;

namespace {

std::set<std::string> stems(const fs::path& folder, const std::string& extension) {
    std::set<std::string> names;
    for (const auto& item : fs::directory_iterator(folder)) {
        if (item.path().extension() == extension) names.insert(item.path().stem().string());
    }
    return names;
}

}  // namespace

TEST_CASE("no picture of the gallery has a fault", "[gallery]") {
    const CommandGraph scratch;
    const std::string top = SAGGAR_SOURCE_DIR;
    const auto said = scratch.shell("mkdir pictures; SAGGAR='" SAGGAR_BIN_DIR
                                    "/saggar' GALLERY_FOLDER=pictures GALLERY_FORMAT=svg sh '" +
                                    top + "/examples/gallery/make.sh'");
    INFO(said);
    const auto drawn = stems(scratch.path("pictures"), ".svg");
    CHECK(drawn == stems(top + "/examples/gallery", ".png"));
    CHECK(drawn.size() >= 15);
    for (const auto& name : drawn) {
        std::ifstream file(scratch.path("pictures/" + name + ".svg"), std::ios::binary);
        const std::string svg{std::istreambuf_iterator<char>(file), {}};
        INFO(name);
        for (const auto& fault : faults_of_svg(svg)) {
            UNSCOPED_INFO(fault);
            CHECK(fault.empty());
        }
    }
}
