#include "kg/store/check_words.h"

#include <catch2/catch.hpp>
#include <rocksdb/db.h>

#include "kg/store/check.h"
#include "kg/store/database.h"
#include "kg/store/store.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;

namespace {

ChangeHead head() {
    ChangeHead head;
    head.verb = "load";
    head.time = "2026-01-02T00:00:00Z";
    return head;
}

Entity thing(const std::string& key, const std::string& label) {
    Entity one;
    one.key = key;
    one.label.text = label;
    return one;
}

std::vector<std::string> damage_of(const Store& store, std::size_t most_words) {
    std::vector<std::string> all;
    check_words(*store.database(), [&](std::string text) { all.push_back(std::move(text)); }, most_words);
    return all;
}

// Things of several versions, sources, claims with readings, arguments, and something withdrawn.
void fill(Store& store) {
    for (int round = 0; round < 3; ++round) {
        Change change = store.begin(head());
        for (int i = 0; i < 40; ++i) {
            const std::string n = std::to_string(i);
            Entity one = thing("shape:s-" + n, "Shape " + n + " of round " + std::to_string(round));
            one.also.push_back({"Form " + n, "de"});
            one.remark = "a remark, the same for all";
            change.put(one);
            change.put(thing("item:i-" + n, "first words"));
            change.put(thing("item:i-" + n, "other words"));  // the first are replaced within the change
            Source source;
            source.key = "source:a";
            source.title = "Title";
            source.author = "Author";
            change.put(source);
            Claim claim{"item:i-" + n, "numbered", {Value::Type::text, "No. A." + n, ""}, "", "", false};
            change.put(claim);
            Evidence reading;
            reading.claim = id_of(claim);
            reading.source = "source:a";
            reading.quote = "so it says in round " + std::to_string(round);
            reading.remark = "blotted";
            change.put(reading);
            Argument guess;
            guess.conclusion = id_of(claim);
            guess.strength = .5;
            guess.reason = "a guess of round " + std::to_string(round);
            change.put(guess);
            if (round == 2 && i == 7) change.put(Withdrawal{id_of(claim), "wrong"});
        }
        change.commit();
    }
}

}  // namespace

TEST_CASE("the index of words fits the texts, and what is missing or too much is told", "[check_words]") {
    testing::TemporaryFolder folder;
    Store store = Store::create(folder.path() / "g", {"", "", "t", "2026-01-01T00:00:00Z"});
    CHECK(damage_of(store, 1000).empty());
    fill(store);
    // In one share and in many.
    for (const std::size_t most : {1'000'000, 300, 20}) CHECK(damage_of(store, most).empty());
    CHECK(check(store).damage.empty());

    // Each key of the index in turn.
    std::vector<std::string> keys;
    for_prefix(*store.database(), "t", [&](std::string_view key, std::string_view) {
        keys.emplace_back(key);
        return true;
    });
    REQUIRE(keys.size() > 300);
    std::size_t told = 0;
    for (std::size_t i = 0; i < keys.size(); i += 7) {
        rocksdb::WriteBatch take_out, put_back;
        take_out.Delete(keys[i]);
        put_back.Put(keys[i], "");
        REQUIRE(store.database()->db->Write({}, &take_out).ok());
        const auto damage = damage_of(store, 200);
        if (keys[i].rfind("tfirst", 0) != 0) {  // words that were replaced within a change may be there or not
            INFO(keys[i]);
            CHECK(damage == std::vector<std::string>{"1 words of texts are missing in the index"});
            ++told;
        }
        REQUIRE(store.database()->db->Write({}, &put_back).ok());
    }
    CHECK(told > 30);
    std::string stranger = keys.front();
    stranger[stranger.size() - 2] = '\x7f';
    rocksdb::WriteBatch batch;
    batch.Put(stranger, "");
    REQUIRE(store.database()->db->Write({}, &batch).ok());
    CHECK(damage_of(store, 200) == std::vector<std::string>{"1 words of the index lead nowhere"});
    CHECK(check(store).damage.size() == 1);
}
