#include "importers/srt.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

TEST_CASE("times of SRT", "[srt]") {
    // No standard: what ffmpeg (libavcodec/srtdec, libavformat/srtdec) and editors write and read; common practice.
    struct Row {
        std::string text;
        std::optional<std::int64_t> time;
    };
    for (const Row& row : std::vector<Row>{{"00:01:03,500", 63500},
                                           {"1:01:03,500", 3663500},
                                           {"00:01:03.500", 63500},
                                           {"100:00:00,001", 360000001},
                                           {"00:60:00,000", {}},
                                           {"00:00:60,000", {}},
                                           {"00:01:03", {}},
                                           {"00:01:03,50", {}},
                                           {"01:03,500", {}},
                                           {"00:1:03,500", {}},
                                           {"", {}}}) {
        INFO(row.text);
        CHECK(srt_time(row.text) == row.time);
    }
}

TEST_CASE("tags of SRT", "[srt]") {
    CHECK(srt_text("<i>The</i> <font color=\"red\">jug</font> {\\an8}now") == "The jug now");
    CHECK(srt_text("5 < 6 and <unknown> 7 > 2 {brace}") == "5 < 6 and <unknown> 7 > 2 {brace}");
}

TEST_CASE("SRT captions as a timed source", "[srt]") {
    const Collected read = read_good(
        "source: source:interview-2\r\ntype: interview\r\n\r\n1\r\n00:01:03,000 --> 00:01:10,500\r\nMAUD: We drew the "
        "[Lantern](shape:lantern)\r\n"
        "then.\r\n\r\n00:02:00,000 --> 00:02:01,000 X1:0\r\n<i>[Tern](shape:tern)</i>\r\n",
        "talk.srt");
    CHECK(read.only<Source>().key == "source:interview-2");
    const auto evidence = read.all<Evidence>();
    REQUIRE(evidence.size() == 2);
    CHECK(evidence[0].at == "t=63,70.5");
    CHECK(evidence[0].quote == "MAUD: We drew the Lantern then.");
    CHECK(evidence[1].at == "t=120,121");
}
