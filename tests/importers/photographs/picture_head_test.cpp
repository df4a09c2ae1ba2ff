#include "importers/photographs/picture_head.h"

#include <catch2/catch.hpp>

#include <cstdio>
#include <filesystem>

#include "tests/importers/collect_folder.h"
#include "tests/importers/photographs/picture_bytes.h"

using namespace saggar;
using namespace saggar::test;

namespace {

std::string words_of(const std::string& bytes) {
    const auto head = read_picture_head(bytes);
    return head ? std::string(head->medium) + " " + std::to_string(head->width) + " " + std::to_string(head->height)
                : "none";
}

std::string riff(const std::string& chunks) { return "RIFF" + little(chunks.size() + 4, 4) + "WEBP" + chunks; }

}  // namespace

TEST_CASE("the size of a picture stands where its standard says", "[photographs]") {
    CHECK(words_of(jpeg(400, 300)) == "image/jpeg 400 300");                             // ITU-T T.81, B.2.2
    CHECK(words_of(png(640, 480)) == "image/png 640 480");                               // W3C PNG, 11.2.1
    CHECK(words_of("GIF89a" + little(320, 2) + little(200, 2)) == "image/gif 320 200");  // GIF89a, section 18
    // RFC 9649, 2.5 (VP8): frame tag, start code 9D 01 2A, 14 bits each; 2.6 (VP8L): 2F, then 14 bits each less one; 2.7 (VP8X).
    CHECK(words_of(riff("VP8 " + little(10, 4) + "\1\2\3\x9D\x01\x2A" + little(120, 2) + little(80, 2))) ==
          "image/webp 120 80");
    CHECK(words_of(riff("VP8L" + little(5, 4) + "\x2F" + little(99 | 49 << 14, 4) + std::string(1, '\0'))) ==
          "image/webp 100 50");
    CHECK(words_of(riff("VP8X" + little(10, 4) + std::string(4, '\0') + little(1999, 3) + little(999, 3))) ==
          "image/webp 2000 1000");
    // TIFF 6.0, section 2: a directory with ImageWidth (256, SHORT) and ImageLength (257, LONG), in either byte order.
    CHECK(words_of(std::string("II*\0", 4) + little(8, 4) + little(2, 2) + little(256, 2) + little(3, 2) +
                   little(1, 4) + little(70, 4) + little(257, 2) + little(4, 2) + little(1, 4) + little(50, 4)) ==
          "image/tiff 70 50");
    CHECK(words_of(std::string("MM\0*", 4) + big(8, 4) + big(2, 2) + big(256, 2) + big(3, 2) + big(1, 4) + big(70, 2) +
                   big(0, 2) + big(257, 2) + big(4, 2) + big(1, 4) + big(50, 4)) == "image/tiff 70 50");
}

TEST_CASE("what is cut off or no picture has no head", "[photographs]") {
    CHECK(words_of("") == "none");
    CHECK(words_of("<svg xmlns=\"http://www.w3.org/2000/svg\"/>") == "none");
    CHECK(words_of(jpeg(0, 300)) == "none");
    for (const std::string& whole :
         {jpeg(400, 300, exif("2020:01:02 03:04:05")), png(640, 480, exif("2020:01:02 03:04:05"))}) {
        const auto head = read_picture_head(whole);
        REQUIRE(head);
        CHECK(head->exif == exif("2020:01:02 03:04:05"));
        for (std::size_t cut = 0; cut < 20; ++cut) CHECK(words_of(whole.substr(0, cut)) == "none");
    }
}

TEST_CASE("sizes agree with the program file(1)", "[photographs]") {
    // An independent reader of the same standards. Where it is not installed nothing is compared.
    const std::string folder = SAGGAR_SOURCE_DIR "/examples/photographs/";
    for (const std::string name : {"stand-1958-press.jpg", "halyard-jug.png", "marks/anchor-2.png"}) {
        std::FILE* pipe = ::popen(("file -b '" + folder + name + "' 2>/dev/null").c_str(), "r");
        char said[500] = {};
        const std::size_t got = std::fread(said, 1, sizeof said - 1, pipe);
        ::pclose(pipe);
        const auto head = read_picture_head(bytes_of(folder + name));
        REQUIRE(head);
        const std::string blanks = std::to_string(head->width) + " x " + std::to_string(head->height);
        const std::string close = std::to_string(head->width) + "x" + std::to_string(head->height);
        if (got) CHECK(std::string(said).find(head->medium == "image/png" ? blanks : close) != std::string::npos);
    }
}
