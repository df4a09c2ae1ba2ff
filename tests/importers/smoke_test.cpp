// Every reader on damaged text: it may refuse, it may not crash, hang, or put anything unsound behind the checks. The seeds are
// small good files of each format; each is cut, doubled, and has bytes changed by a fixed random sequence. The same readers
// have a libFuzzer target in tests/fuzz/.
#include <catch2/catch.hpp>
#include <random>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

namespace {

struct Seed {
    std::string name;
    std::string text;
};

const std::vector<Seed>& seeds() {
    static const std::vector<Seed> all = {
        {"a.csv", "subject,relation,object,stance,source,at,quote\nline:n,built-on,shape:l,for,memo,p. 2,\"the \"\"words\"\"\"\n"
                  "piece:j,made-in-year,ca. 1935,against,memo,,\nshape:t,comprises,*,lists-all,list,,\n"},
        {"e.csv", "key,kind,label,also\nlantern,shape,Lantern,Laterne@de; No. 7\n"},
        {"s.csv", "key,title,type,copied_from,issued\nguide,The guide,book,source:n (chance .7),early 1950s\n"},
        {"n.md", "# J {#source:j}\n\n- type: journal\n\nOf [x](shape:x) *and* `y`.\n\n| subject | relation | object |\n|---|---|---|\n| shape:x | made-by | maker:m |\n"},
        {"g.jsonl", R"({"entity":{"key":"shape:a","label":{"text":"A \u00e9"},"also":[{"text":"B","language":"de"}]}})"
                    "\n" R"({"claim":{"object":{"date":"1948"},"relation":"made-in-year","subject":"piece:p"}})" "\n"},
        {"t.vtt", "WEBVTT\n\nNOTE\nsource: source:talk\n\n1\n00:01.000 --> 00:02.000 align:start\n<v Maud>of [x](shape:x) &amp; <i>more</i>\n"},
        {"t.srt", "1\n00:00:01,000 --> 00:00:02,000\nof [x](shape:x) <i>more</i>\n"},
        {"b.json", R"([{"id":"a","type":"book","author":[{"family":"O","given":"J"}],"issued":{"date-parts":[[1948,3]],"circa":true},"custom":{"type":"book"}}])"},
        {"b.bib", "@string{u = {Press}}\n@book{a, author = {Orme, J. and {Body}}, title = \"M{\\\"u}ller\", publisher = u # { x}, year = 1948, month = mar}\n"},
        {"b.ris", "TY  - JOUR\r\nID  - a\r\nAU  - Orme, J.\r\nTI  - T\r\nSP  - 1\r\nEP  - 2\r\nDA  - 1948/03/02/\r\nN1  - grade: A\r\nER  - \r\n"}};
    return all;
}

// One damage: a byte changed, a piece cut out, a piece doubled, the end cut off.
std::string damaged(std::string text, std::mt19937& random) {
    const auto below = [&](std::size_t bound) { return bound ? random() % bound : 0; };
    const std::size_t times = 1 + below(4);
    for (std::size_t i = 0; i < times && !text.empty(); ++i) {
        const std::size_t at = below(text.size());
        const std::size_t length = 1 + below(12);
        static constexpr std::string_view signs = "\"'{}[]()<>,;:|\\@#-=\n\r\t \xC3\xFF~0aZ";
        const std::size_t way = below(5);
        if (way < 2) {
            text[at] = signs[below(signs.size())];
        } else if (way == 2) {
            text.erase(at, length);
        } else if (way == 3) {
            const std::string piece = text.substr(at, length);
            text.insert(at, piece);
        } else {
            text.resize(at);
        }
    }
    return text;
}

}  // namespace

TEST_CASE("damaged files of every format are read or refused", "[smoke]") {
    std::mt19937 random(20260101);
    for (const Seed& seed : seeds()) {
        Problems none;
        read_text(seed.text, seed.name, none);
        INFO(seed.name << "\n" << all_problems(none));
        CHECK(none.errors() == 0);
        for (int i = 0; i < 1500; ++i) {
            const std::string text = damaged(seed.text, random);
            Problems problems;
            const Collected read = read_text(text, seed.name, problems);
            for (const Record& record : read.records) {
                // What passed the checks can be written and read again as it is.
                Problems again;
                const std::string line = to_json_line(record);
                const auto back = RecordJsonReader().read(TextLines("x", line), again);
                const bool same = back && std::get<Record>(*back) == record;
                if (!same) FAIL_CHECK(seed.name << "\n" << text << "\n" << line << all_problems(again));
            }
            all_problems(problems);
        }
    }
}
