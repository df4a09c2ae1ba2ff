// Files made field by field after TIFF 6.0, section 2, and Exif 2.32, 4.6.3.
#include "importers/photographs/tiff_extract.h"

#include <catch2/catch.hpp>
#include <random>

#include "importers/photographs/exif_date.h"
#include "importers/photographs/picture_head.h"

using namespace saggar;

namespace {

std::string number(bool big, std::uint64_t value, int bytes) {
    std::string out;
    for (int i = 0; i < bytes; ++i) out += static_cast<char>(value >> (8 * (big ? bytes - 1 - i : i)));
    return out;
}

std::string field(bool big, int tag, int type, std::uint64_t count, std::uint64_t value) {
    const bool is_short = type == 3;  // a SHORT stands in the first two bytes of its four
    return number(big, static_cast<std::uint64_t>(tag), 2) + number(big, static_cast<std::uint64_t>(type), 2) + number(big, count, 4) +
           number(big, value, is_short ? 2 : 4) + (is_short ? std::string(2, '\0') : std::string());
}

// A picture of `gap` bytes, then the first directory, then the text, then the Exif directory.
std::string tiff(bool big, std::size_t gap, const std::string& taken) {
    const std::size_t first = 8 + gap;
    const std::size_t text = first + 2 + 3 * 12 + 4;
    const std::size_t exif = text + taken.size() + 1;
    std::string out = big ? std::string("MM\0*", 4) : std::string("II*\0", 4);
    out += number(big, first, 4) + std::string(gap, 'p') + number(big, 3, 2);
    out += field(big, 256, 4, 1, 6000) + field(big, 257, 3, 1, 4000) + field(big, 0x8769, 4, 1, exif) + number(big, 0, 4);
    out += taken + '\0' + number(big, 2, 2);
    return out + field(big, 0x829A, 5, 1, 8) + field(big, 0x9003, 2, taken.size() + 1, text) + number(big, 0, 4);
}

ReadAt reading(const std::string& bytes) {
    return [&bytes](std::uint64_t offset, std::size_t count) { return offset < bytes.size() ? bytes.substr(offset, count) : std::string(); };
}

}  // namespace

TEST_CASE("directories behind the picture are found, in both orders of bytes", "[photographs]") {
    for (const bool big : {false, true}) {
        for (const std::size_t gap : {std::size_t{0}, std::size_t{70'000}, std::size_t{20'000'000}}) {
            const std::string bytes = tiff(big, gap, "1958:06:14 09:30:00");
            const std::string small = tiff_extract(reading(bytes));
            CHECK(small.size() < 200);
            const auto head = read_picture_head(small);
            REQUIRE(head);
            CHECK(head->medium == "image/tiff");
            CHECK(head->width == 6000);
            CHECK(head->height == 4000);
            CHECK(exif_capture_date(head->exif).edtf == "1958-06-14T09:30:00");
        }
    }
}

TEST_CASE("offsets that lead out of a TIFF file lead nowhere", "[photographs]") {
    const std::string whole = tiff(false, 100, "1958:06:14 09:30:00");
    for (std::size_t cut = 0; cut < whole.size(); ++cut) {
        const std::string bytes = whole.substr(0, cut);
        const std::string small = tiff_extract(reading(bytes));
        CHECK(small.size() < 200);
        if (const auto head = read_picture_head(small)) exif_capture_date(head->exif);
    }
    std::mt19937 random(1);
    for (int round = 0; round < 2000; ++round) {
        std::string bytes = whole;
        for (int i = 0; i < 3; ++i) bytes[(i == 0 ? 4 : 108) + random() % (i == 0 ? 4 : bytes.size() - 108)] = static_cast<char>(random());
        CHECK(tiff_extract(reading(bytes)).size() < 300);
    }
    CHECK(tiff_extract(reading("II*")).empty());
    CHECK(tiff_extract(reading(std::string("GIF89a\1\0\1\0", 10))).empty());
}
