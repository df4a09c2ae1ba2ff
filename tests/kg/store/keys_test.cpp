#include "kg/store/keys.h"

#include <catch2/catch.hpp>

using namespace saggar;

namespace {
std::string hex(std::string_view bytes) {
    static constexpr char digits[] = "0123456789abcdef";
    std::string out;
    for (const char c : bytes) {
        out += digits[static_cast<unsigned char>(c) >> 4];
        out += digits[static_cast<unsigned char>(c) & 15];
    }
    return out;
}
const ClaimRef example{EntityId{7}, RelationId{2}, 5};
}  // namespace

TEST_CASE("the worked example of keys.h") {
    CHECK(hex(keys::claim(example)) ==
          "63"
          "0000000000000007"
          "00000002"
          "0000000000000005");
    CHECK(hex(keys::evidence(example, 1)) ==
          "63"
          "0000000000000007"
          "00000002"
          "0000000000000005"
          "00000001");
    CHECK(hex(keys::link_from(example, EntityId{3})) ==
          "6f"
          "0000000000000007"
          "00000002"
          "00"
          "0000000000000005"
          "0000000000000003");
    CHECK(hex(keys::link_to(EntityId{3}, example)) ==
          "6f"
          "0000000000000003"
          "00000002"
          "01"
          "0000000000000007"
          "0000000000000005");
}

TEST_CASE("evidence sorts directly behind its claim, before the next claim") {
    const ClaimRef next{EntityId{7}, RelationId{2}, 6};
    CHECK(keys::claim(example) < keys::evidence(example, 1));
    CHECK(keys::evidence(example, 1) < keys::evidence(example, 300));
    CHECK(keys::evidence(example, 300) < keys::claim(next));
}

TEST_CASE("numbers sort as numbers") {
    CHECK(keys::entity(EntityId{255}) < keys::entity(EntityId{256}));
    CHECK(keys::claims(EntityId{255}) < keys::claims(EntityId{256}));
}

TEST_CASE("keys read back") {
    const std::string key = keys::claim(example);
    Bytes bytes(std::string_view(key).substr(1));
    CHECK(keys::read_claim(bytes) == example);
    CHECK(bytes.at_end());
    const Link there{EntityId{3}, example, true};
    const Link back{EntityId{7}, example, false};
    const std::string from = keys::link_from(example, EntityId{3});
    const std::string to = keys::link_to(EntityId{3}, example);
    Bytes behind_subject(std::string_view(from).substr(keys::links(EntityId{7}).size()));
    CHECK(keys::read_link(EntityId{7}, behind_subject) == there);
    CHECK(behind_subject.at_end());
    Bytes behind_object(std::string_view(to).substr(keys::links(EntityId{3}).size()));
    CHECK(keys::read_link(EntityId{3}, behind_object) == back);
    CHECK(behind_object.at_end());
}
