#include "importers/text_input.h"

#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include "kg/model/fault.h"
#include "kg/model/key.h"

using namespace saggar;

namespace {

struct Decoded {
    std::string text;
    Problems problems;
};

// Feeds the bytes in pieces of `piece`.
std::string decode_in_pieces(std::string_view bytes, std::size_t piece, TextDecoder& decoder) {
    std::string out;
    for (std::size_t at = 0; at < bytes.size(); at += piece) decoder.feed(bytes.substr(at, piece), out);
    decoder.finish(out);
    return out;
}

}  // namespace

TEST_CASE("Windows-1252 bytes get their characters", "[text_decode]") {
    // WHATWG Encoding Standard, index-windows-1252: pointers 0 to 31 that are not controls, and some beyond.
    struct Row {
        int byte;
        std::string text;
    };
    for (const Row& row : std::vector<Row>{
             {0x80, "€"}, {0x82, "‚"}, {0x83, "ƒ"}, {0x84, "„"}, {0x85, "…"}, {0x86, "†"}, {0x87, "‡"},
             {0x88, "ˆ"}, {0x89, "‰"}, {0x8A, "Š"}, {0x8B, "‹"}, {0x8C, "Œ"}, {0x8E, "Ž"}, {0x91, "‘"},
             {0x92, "’"}, {0x93, "“"}, {0x94, "”"}, {0x95, "•"}, {0x96, "–"}, {0x97, "—"}, {0x98, "˜"},
             {0x99, "™"}, {0x9A, "š"}, {0x9B, "›"}, {0x9C, "œ"}, {0x9E, "ž"}, {0x9F, "Ÿ"}, {0xA0, "\u00a0"},
             {0xA3, "£"}, {0xE8, "è"}, {0xFF, "ÿ"}}) {
        TextDecoder decoder;
        const std::string bytes = "ab " + std::string(1, static_cast<char>(row.byte)) + " cd";
        INFO(row.byte);
        CHECK(decode_in_pieces(bytes, 100, decoder) == "ab " + row.text + " cd");
        CHECK(decoder.converted() == 1);
        CHECK(decoder.first_converted()->offset == 3);
        CHECK_FALSE(decoder.first_refused());
    }
    for (const int byte : {0x81, 0x8D, 0x8F, 0x90, 0x9D, 0x00}) {
        TextDecoder decoder;
        CHECK(decode_in_pieces("ab " + std::string(1, static_cast<char>(byte)) + " cd", 100, decoder) ==
              "ab \uFFFD cd");
        REQUIRE(decoder.first_refused());
        CHECK(decoder.first_refused()->byte == byte);
    }
}

TEST_CASE("UTF-8 passes, and only what is well formed counts as UTF-8", "[text_decode]") {
    struct Row {
        std::string bytes;
        std::uint64_t odd;
    };
    // RFC 3629 section 3 and 10: overlong forms, surrogates, beyond U+10FFFF; Unicode Standard table 3-8.
    for (const Row& row : std::vector<Row>{{"S\u00e8vres \u20ac \U0001D11E", 0},
                                           {"\xC0\xAF", 2},
                                           {"\xE0\x80\xAF", 3},
                                           {"\xED\xA0\x80", 3},
                                           {"\xF4\x91\x92\x93", 4},
                                           {"\xE2\x82", 2},
                                           {"\xF0\x9F\x92", 3},
                                           {"\xE2\x82\xAC\xE2", 1}}) {
        TextDecoder decoder;
        const std::string out = decode_in_pieces(row.bytes, 100, decoder);
        CHECK(decoder.converted() == row.odd);
        CHECK(is_valid_utf8(out));
        if (row.odd == 0) CHECK(out == row.bytes);
    }
}

TEST_CASE("the same bytes give the same text however they are cut", "[text_decode]") {
    rc::prop("pieces of any size", [](const std::string& bytes) {
        TextDecoder whole;
        const std::string text = decode_in_pieces(bytes, bytes.size() + 1, whole);
        RC_ASSERT(is_valid_utf8(text));
        for (std::size_t piece = 1; piece < 6; ++piece) {
            TextDecoder cut;
            RC_ASSERT(decode_in_pieces(bytes, piece, cut) == text);
            RC_ASSERT(cut.converted() == whole.converted());
        }
    });
}

TEST_CASE("a byte order mark is dropped, one of another encoding refused", "[text_input]") {
    using namespace std::string_view_literals;
    Problems problems;
    CHECK(TextInput("f", open_bytes("\xEF\xBB\xBFkey"), problems).rest() == "key");
    CHECK(TextInput("f", open_bytes("\xEF\xBB\xBF"), problems).rest().empty());
    CHECK(TextInput("f", open_bytes(""), problems).rest().empty());
    CHECK(problems.list().empty());
    for (const auto bytes : {"\xFF\xFEk\0e\0"sv, "\xFE\xFF\0k"sv, "\xFF\xFE"sv, "\xFF\xFE\0\0k\0\0\0"sv}) {
        Problems refused;
        TextInput("f", open_bytes(bytes), refused).rest();
        REQUIRE(refused.errors() == 1);
        CHECK(refused.list()[0].id == "text-other-encoding");
    }
}

TEST_CASE("converted and refused bytes are reported once, at the first place", "[text_input]") {
    Problems problems;
    TextInput input("f.csv", open_bytes("one\ntwo \xE9t\xE9 \x85\nthree \x81\n"), problems);
    CHECK(input.rest() == "one\ntwo \u00e9t\u00e9 \u2026\nthree \uFFFD\n");
    REQUIRE(problems.list().size() == 2);
    CHECK(problems.list()[0].id == "text-bad-byte");
    CHECK(problems.list()[0].place.line == 3);
    CHECK(problems.list()[0].place.column == 7);
    CHECK(problems.list()[1].id == "text-windows-1252");
    CHECK(problems.list()[1].severity == Severity::warning);
    CHECK(problems.list()[1].place.line == 2);
    CHECK(problems.list()[1].place.column == 5);
    CHECK(problems.list()[1].place.text == "two \u00e9t\u00e9 \u2026");
}

TEST_CASE("a large file goes by in a small window, with lines counted", "[text_input]") {
    std::string bytes;
    for (int i = 0; i < 200000; ++i) bytes += "line " + std::to_string(i) + "\n";
    bytes += "odd \xE9";
    Problems problems;
    TextInput input("f", open_bytes(bytes), problems);
    std::string read;
    std::size_t widest = 0;
    for (bool more = true; more;) {
        widest = std::max(widest, input.window().size());
        read += input.window();
        input.consume(input.window().size());
        more = input.more();
    }
    CHECK(read == bytes.substr(0, bytes.size() - 1) + "\u00e9");
    CHECK(widest < 600000);
    CHECK(input.line() == 200001);
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list()[0].place.line == 200001);
}

TEST_CASE("limits are problems, missing files are faults", "[text_input]") {
    Problems problems;
    TextLimits limits;
    limits.whole_bytes = 1000;
    const std::string bytes(300000, 'x');
    CHECK(TextInput("f", open_bytes(bytes), problems, limits).rest().empty());
    REQUIRE(problems.errors() == 1);
    CHECK(problems.list()[0].id == "text-too-long");
    limits = {};
    limits.file_bytes = 1000;
    TextInput("f", open_bytes(bytes), problems, limits);
    CHECK(problems.errors() == 2);
    CHECK_THROWS_AS(open_file("/nowhere/at/all.csv"), UsageFault);
    CHECK_THROWS_AS(open_file("/"), UsageFault);
}
