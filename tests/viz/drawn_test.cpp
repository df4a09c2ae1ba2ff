// The judge of pictures is judged: each fault it knows is drawn by hand and must be named.
#include "drawn.h"

#include <catch2/catch.hpp>

using saggar::testing::faults_of_svg;

namespace {

std::string box(const char* id, int x, int y, const char* words = "") {
    return "<g class='node' id='" + std::string(id) + "'><rect x='" + std::to_string(x) + "' y='" + std::to_string(y) +
           "' width='80' height='40'/>" + words + "</g>";
}

std::string line(const char* id, const char* path, const char* words = "") {
    return "<g class='line' id='" + std::string(id) + "'><path d='" + path + "'/>" + words + "</g>";
}

std::vector<std::string> faults(const std::string& inside) {
    return faults_of_svg("<svg width='400' height='400'>" + inside + "</svg>");
}

const std::string kTop = box("a", 150, 10), kBottom = box("b", 150, 300), kMiddle = box("c", 150, 150);
const char* const kWords = "<text x='195' y='100' font-size='12'>sold by</text>";

}  // namespace

TEST_CASE("a clear picture has no fault") {
    CHECK(faults(kTop + kBottom + line("e", "M190,50 C190,100 190,200 190,300", kWords)).empty());
}

TEST_CASE("every fault is named") {
    using V = std::vector<std::string>;
    const auto straight = line("e", "M190,50 C190,100 190,200 190,300");
    CHECK(faults(kTop + kBottom + kMiddle + straight) == V{"line e runs through or along box c"});
    // 2 px beside box d, whose left side is at x = 192.
    CHECK(faults(kTop + kBottom + box("d", 192, 150) + straight) == V{"line e runs through or along box d"});
    CHECK(faults(kTop + kBottom + box("d", 195, 150) + straight).empty());
    CHECK(faults(kTop + box("d", 200, 30)) == V{"box a overlaps box d"});
    CHECK(faults(box("d", 350, 30)) == V{"box d reaches outside the sheet"});
    CHECK(faults(box("d", 10, 30, "<text x='20' y='50' font-size='12'>far too long for it</text>")) ==
          V{"the words of box d reach outside it"});
    const auto beside = line("f", "M160,50 C160,100 160,200 160,300", "<text x='170' y='200' font-size='12'>made by</text>");
    CHECK(faults(kTop + kBottom + straight + beside) == V{"line e crosses the words of line f"});
    CHECK(faults(kTop + kBottom + line("e", "M190,50 C190,100 190,200 190,300", kWords) +
                 line("f", "M220,50 C260,100 260,200 220,300", "<text x='200' y='104' font-size='12'>made by</text>"))
              .size() == 1);
    CHECK(faults(kTop + kBottom + kMiddle +
                 line("e", "M150,30 C40,30 40,320 150,320", "<text x='160' y='170' font-size='12'>sold by</text>")) ==
          V{"the words of line e lie on box c"});
    CHECK(faults("<text x='380' y='200' font-size='12'>cut off</text>") ==
          V{"the words \"cut off\" reaches outside the sheet"});
}
