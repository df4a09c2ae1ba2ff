#include "kg/model/content_id.h"

#include <sodium.h>

#include <catch2/catch.hpp>

#include "kg/model/record.h"

using namespace saggar;

TEST_CASE("content ids print in Crockford's base32 and read back") {
    ContentId id;
    for (std::size_t i = 0; i < id.bytes.size(); ++i) id.bytes[i] = static_cast<std::uint8_t>(i * 17);
    CHECK(id.full().size() == 26);
    CHECK(parse_content_id(id.full()) == id);
    CHECK_FALSE(parse_content_id("short"));
    CHECK_FALSE(parse_content_id(std::string(26, 'u')));  // u is not in the alphabet
}

TEST_CASE("fields do not run into each other") {
    CHECK(ContentHash("x").field("ab").field("c").finish() != ContentHash("x").field("a").field("bc").finish());
    CHECK(ContentHash("x").field("").finish() != ContentHash("x").finish());
}

TEST_CASE("the same proposition has the same id, whoever records it") {
    Claim claim{"line:northern", "commissioned-by", {Value::Type::entity, "company:northern-provident", ""}, "", "", false};
    Claim again = claim;
    again.is_private = true;
    CHECK(id_of(claim) == id_of(again));
    again.when = "1938";
    CHECK(id_of(claim) != id_of(again));
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = "source:memo-1";
    Evidence other = evidence;
    other.recorded_by = "somebody else";
    other.recorded_on = "2020-01-01";
    CHECK(id_of(evidence) == id_of(other));
    other.stance = Stance::against;
    CHECK(id_of(evidence) != id_of(other));
}
