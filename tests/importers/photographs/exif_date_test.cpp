#include "importers/photographs/exif_date.h"

#include <catch2/catch.hpp>

#include "tests/importers/photographs/picture_bytes.h"

using namespace saggar;
using namespace saggar::test;

TEST_CASE("the date of capture is read from EXIF", "[photographs]") {
    // Exif 2.32, 4.6.5: "YYYY:MM:DD HH:MM:SS", 20 bytes with the final zero; unknown parts are blanks.
    const ExifDate date = exif_capture_date(exif("2003:08:11 16:45:32"));
    CHECK(date.text == "2003:08:11 16:45:32");
    CHECK(date.edtf == "2003-08-11T16:45:32");
    CHECK(exif_capture_date(exif("    :  :     :  :  ")).text.empty());
    CHECK(exif_capture_date(exif("0000:00:00 00:00:00")).text.empty());
    CHECK(exif_capture_date(exif("2003:02:30 16:45:32")).edtf.empty());
    CHECK(exif_capture_date(exif("2003:02:30 16:45:32")).text == "2003:02:30 16:45:32");
    CHECK(exif_capture_date(exif("yesterday")).edtf.empty());
}

TEST_CASE("broken EXIF data give no date and do no harm", "[photographs]") {
    CHECK(exif_capture_date("").text.empty());
    const std::string whole = exif("2003:08:11 16:45:32");
    for (std::size_t cut = 0; cut < 44; ++cut) CHECK(exif_capture_date(whole.substr(0, cut)).edtf.empty());
    std::string circle = whole;  // the Exif directory is the first directory
    circle[18] = 8;
    CHECK(exif_capture_date(circle).edtf.empty());
}
