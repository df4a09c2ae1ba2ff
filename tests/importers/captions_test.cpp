#include "importers/captions.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

TEST_CASE("times of WebVTT", "[captions]") {
    // WebVTT, section 4.1 "WebVTT timestamp": hours two or more digits and optional, minutes and seconds 00 to 59,
    // three decimals.
    struct Row {
        std::string text;
        std::optional<std::int64_t> time;
    };
    for (const Row& row : std::vector<Row>{{"00:00.000", 0},
                                           {"01:03.500", 63500},
                                           {"59:59.999", 3599999},
                                           {"00:01:03.500", 63500},
                                           {"100:00:00.001", 360000001},
                                           {"1:03.500", {}},
                                           {"1:00:00.000", {}},
                                           {"01:60.000", {}},
                                           {"60:00.000", {}},
                                           {"01:03.50", {}},
                                           {"01:03.5000", {}},
                                           {"01:03,500", {}},
                                           {"01:03", {}},
                                           {"-1:03.500", {}},
                                           {" 01:03.500", {}},
                                           {"", {}}}) {
        INFO(row.text);
        CHECK(webvtt_time(row.text) == row.time);
    }
}

TEST_CASE("fragments of time", "[captions]") {
    // Media Fragments URI 1.0, section 4.2.1: npt seconds with optional decimals, start before end.
    CHECK(time_fragment(63000, 70000) == "t=63,70");
    CHECK(time_fragment(0, 12500) == "t=0,12.5");
    CHECK(time_fragment(1, 3600010) == "t=0.001,3600.01");
}

TEST_CASE("cue text loses its tags and keeps its speaker", "[captions]") {
    // The tags of WebVTT, sections 3.2 and 4.2.2.
    struct Row {
        std::string raw, text, speaker;
    };
    for (const Row& row : std::vector<Row>{
             {"<v Maud Ennersley>The <i>Lantern</i> jug", "The Lantern jug", "Maud Ennersley"},
             {"<v.loud Maud>No!</v>", "No!", "Maud"},
             {"<c.red>a</c> <b>b</b> <u>c</u> <lang en>d</lang> <ruby>e<rt>f</rt></ruby>", "a b c d ef", ""},
             {"one <00:00:01.000>two", "one two", ""},
             {"5 &lt; 6 &amp;&amp; 7 &gt; 2&nbsp;x &unknown;", "5 < 6 && 7 > 2\u00a0x &unknown;", ""},
             {"<v A>one <v B>two", "one  B: two", "A"},
             {"a < b", "a < b", ""}}) {
        INFO(row.raw);
        const SpokenText spoken = webvtt_text(row.raw);
        CHECK(spoken.text == row.text);
        CHECK(spoken.speaker == row.speaker);
    }
}

TEST_CASE("captions as a timed source", "[captions]") {
    const Collected read = read_good(
        "WEBVTT - an interview\r\n\r\n"
        "NOTE\r\nsource: source:interview-1\r\ntitle: Interview with M. E.\r\ntype: interview\r\nfree words\r\n\r\n"
        "STYLE\r\n::cue { color: red }\r\n\r\n"
        "1\r\n00:01:03.000 --> 00:01:10.500 align:start\r\n<v Maud>We drew the [Lantern](shape:lantern)\r\nfor "
        "[them](company:calloway).\r\n\r\n"
        "02:00.000 --> 02:01.000\r\nNothing of note\r\n",
        "talk.vtt");
    const Source source = read.only<Source>();
    CHECK(source.key == "source:interview-1");
    CHECK(source.title == "Interview with M. E.");
    CHECK(source.type == "interview");
    const auto evidence = read.all<Evidence>();
    REQUIRE(evidence.size() == 2);
    CHECK(evidence[0].at == "t=63,70.5");
    CHECK(evidence[0].quote == "Maud: We drew the Lantern for them.");
    CHECK(read.all<Claim>()[1].object.text == "company:calloway");
}

TEST_CASE("without a note the file names the source", "[captions]") {
    const Collected read = read_good("WEBVTT\n\n00:01.000 --> 00:02.000\n[x](shape:x)\n", "Talk of 1962.vtt");
    CHECK(read.only<Source>().key == "source:talk-of-1962");
    CHECK(read.only<Source>().title == "Talk of 1962");
    CHECK(read.only<Evidence>().source == "source:talk-of-1962");
}

// WebVTT (W3C Candidate Recommendation, 4 April 2019), 6.1: a block right below the signature is a header and is passed over.
TEST_CASE("lines right below WEBVTT are passed over with a warning, a cue there is an error", "[captions]") {
    Problems problems;
    const Collected read = read_text("WEBVTT\nKind: captions\nLanguage: en\n\n00:01.000 --> 00:02.000\n[x](shape:x)\n", "t.vtt", problems);
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list()[0].id == "captions-header");
    CHECK(problems.list()[0].severity == Severity::warning);
    CHECK(problems.list()[0].place.line == 2);
    CHECK(read.only<Evidence>().at == "t=1,2");
    Problems wrong;
    read_text("WEBVTT\n00:01.000 --> 00:02.000\n[x](shape:x)\n", "t.vtt", wrong);
    CHECK(wrong.errors() == 1);
    CHECK(wrong.list()[0].place.line == 2);
}

// HTML (WHATWG), 13.5 "Named character references" and 13.2.5.80 "Numeric character reference end state".
TEST_CASE("character references in cues are read, others stay", "[captions]") {
    CHECK(webvtt_text("&#39;a&#x27; &quot;b&quot; &amp;amp; 2&frac12; &rsquo;").text == "'a' \"b\" &amp; 2\u00bd \u2019");
    CHECK(webvtt_text("&unknown; &#; &#xD800; &#0; &#99999999; R&D &").text == "&unknown; &#; &#xD800; &#0; &#99999999; R&D &");
    CHECK(webvtt_text("<v O&#39;Neill>yes &lt;v no>").speaker == "O'Neill");
    CHECK(webvtt_text("<v O&#39;Neill>yes &lt;v no>").text == "yes <v no>");
}
