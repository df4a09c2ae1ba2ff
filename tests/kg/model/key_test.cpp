#include "kg/model/key.h"

#include <catch2/catch.hpp>

using namespace saggar;

namespace {
struct CollectWords : WordVisitor {
    std::vector<std::string> words;
    void word(std::string_view folded, std::size_t) override { words.emplace_back(folded); }
};
}  // namespace

TEST_CASE("keys are kind:slug and nothing else") {
    CHECK(split_key("shape:lantern")->kind == "shape");
    CHECK(split_key("shape:lantern")->slug == "lantern");
    CHECK(is_key("piece:2009.10_a-b"));
    for (const char* bad : {"", "shape", "shape:", ":lantern", "Shape:lantern", "shape:Lantern", "shape:-x", "shape:a b", "shape:é"}) {
        INFO(bad);
        CHECK_FALSE(is_key(bad));
    }
    CHECK_FALSE(is_key("shape:" + std::string(201, 'a')));
}

TEST_CASE("slugs are made from labels in any script") {
    CHECK(slugify("Sèvres & Cie.") == "sevres-cie");
    CHECK(slugify("Кузнецов") == "kuznecov");  // ISO 9 letters, as ICU's Latin-ASCII writes them
    CHECK(slugify("  Maker's No. 12 ") == "makers-no-12");
    CHECK(slugify("…") == "");
}

TEST_CASE("folding drops case and marks") {
    CHECK(fold("Sèvres") == "sevres");
    CHECK(fold("  A  B\tC ") == "a b c");
    CHECK(fold("Straße") == "strasse");  // Unicode NFKC_Casefold, UAX #31
}

TEST_CASE("words are folded runs of letters and digits") {
    CollectWords seen;
    each_word("No. 12-B, Sèvres (\"bleu\")", seen);
    CHECK(seen.words == std::vector<std::string>{"no", "12", "b", "sevres", "bleu"});
}

TEST_CASE("UTF-8 is told from other bytes") {
    CHECK(is_valid_utf8("Sèvres"));
    CHECK_FALSE(is_valid_utf8("S\xE8vres"));
    CHECK_FALSE(is_valid_utf8("\xC0\x80"));
    CHECK(code_points("Sèvres") == 6);
}
