#include "kg/store/check_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <vector>

#include "kg/model/key.h"
#include "kg/store/database.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

// FNV-1a (Fowler, Noll, Vo), and the end of MurmurHash3 (Appleby), so that all bits are of use.
std::uint64_t hash_of(std::string_view text) {
    std::uint64_t hash = 0xcbf29ce484222325u;
    for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
    hash = (hash ^ (hash >> 33)) * 0xff51afd7ed558ccdu;
    hash = (hash ^ (hash >> 33)) * 0xc4ceb9fe1a85ec53u;
    return hash ^ (hash >> 33);
}

void sort_unique(std::vector<std::uint64_t>& hashes) {
    std::sort(hashes.begin(), hashes.end());
    hashes.erase(std::unique(hashes.begin(), hashes.end()), hashes.end());
}

// The keys of the index that the texts ask for, of one share of all keys.
class WantedWords : public WordVisitor {
public:
    WantedWords(std::uint64_t shares, std::uint64_t share, std::size_t most) : shares_(shares), share_(share), most_(most) {}

    template <class Place>
    void text(std::string_view words, Place place, FoundWord::Field field) {
        if (words.empty()) return;
        place_.clear();
        keys::append_word_place(place_, place, field);
        each_word(words, *this);
    }
    void word(std::string_view folded, std::size_t) override {
        key_.assign(1, 't').append(folded).append(place_);
        if (const std::uint64_t hash = hash_of(key_); is_mine(hash)) hashes.push_back(hash);
        if (hashes.size() >= 2 * most_) sort_unique(hashes);
    }
    bool is_mine(std::uint64_t hash) const { return hash % shares_ == share_; }
    bool too_many() const { return hashes.size() > most_; }

    std::vector<std::uint64_t> hashes;

private:
    std::uint64_t shares_, share_;
    std::size_t most_;
    std::string place_, key_;
};

void want_things(const Database& database, WantedWords& wanted) {
    for_prefix(database, "e", [&](std::string_view key, std::string_view value) {
        const EntityId id{Bytes(key.substr(1)).big64()};
        for (const auto& [since, fields] : decode_versions(value)) {
            Entity entity;
            decode(fields, entity);
            wanted.text(entity.label.text, id, FoundWord::label);
            for (const Name& name : entity.also) wanted.text(name.text, id, FoundWord::also);
            wanted.text(entity.remark, id, FoundWord::remark);
        }
        return true;
    });
    for_prefix(database, "s", [&](std::string_view key, std::string_view value) {
        const EntityId id{Bytes(key.substr(1)).big64()};
        for (const auto& [since, fields] : decode_versions(value)) {
            Source source;
            decode(fields, source);
            for (const std::string* const text : {&source.title, &source.author, &source.collection}) wanted.text(*text, id, FoundWord::title);
        }
        return true;
    });
}

void want_claims(const Database& database, WantedWords& wanted) {
    for_prefix(database, "c", [&](std::string_view key, std::string_view value) {
        Bytes bytes(key.substr(1));
        const ClaimRef claim = keys::read_claim(bytes);
        if (bytes.at_end()) {
            const ClaimView view = view_claim(value);
            if (view.object_type == Value::Type::text) wanted.text(view.object_text, claim, FoundWord::text);
        } else {
            const EvidenceView view = view_evidence(value);
            wanted.text(view.quote, claim, FoundWord::quote);
            wanted.text(view.remark, claim, FoundWord::remark);
        }
        return true;
    });
    for_prefix(database, "a", [&](std::string_view key, std::string_view value) {
        Bytes bytes(key.substr(1));
        const ClaimRef conclusion = keys::read_claim(bytes);
        ArgumentRow row;
        decode(value, row);
        wanted.text(row.reason, conclusion, FoundWord::remark);
        return true;
    });
}

std::vector<std::uint64_t> index_words(const Database& database, const WantedWords& wanted) {
    std::vector<std::uint64_t> hashes;
    for_prefix(database, "t", [&](std::string_view key, std::string_view) {
        if (const std::uint64_t hash = hash_of(key); wanted.is_mine(hash)) hashes.push_back(hash);
        return true;
    });
    std::sort(hashes.begin(), hashes.end());
    return hashes;
}

// Records that words lead to and that are not there.
std::size_t words_of_nothing(const Database& database) {
    std::vector<std::uint64_t> records;
    for (const char* const family : {"e", "c"}) {
        for_prefix(database, family, [&](std::string_view key, std::string_view) {
            Bytes bytes(key.substr(1));
            if (*family == 'c') keys::read_claim(bytes);
            if (*family == 'e' || bytes.at_end()) records.push_back(hash_of(key));
            return true;
        });
    }
    sort_unique(records);
    std::size_t lost = 0;
    for_prefix(database, "t", [&](std::string_view key, std::string_view) {
        const std::size_t end = key.find('\0');
        if (end == std::string_view::npos || end + 2 >= key.size()) return ++lost, true;
        Bytes bytes(key.substr(end + 2));
        const std::string record = key[end + 1] == 'e' ? keys::entity(EntityId{bytes.big64()}) : keys::claim(keys::read_word_claim(bytes));
        lost += !std::binary_search(records.begin(), records.end(), hash_of(record));
        return true;
    });
    return lost;
}

}  // namespace

void check_words(const Database& database, const std::function<void(std::string)>& damaged, std::size_t most_words) {
    std::uint64_t shares = 1;
    std::size_t missing = 0;
    for (std::uint64_t share = 0; share < shares; ++share) {
        WantedWords wanted(shares, share, most_words);
        want_things(database, wanted);
        want_claims(database, wanted);
        sort_unique(wanted.hashes);
        if (wanted.too_many()) {  // again from the beginning, in smaller shares
            shares *= 2;
            share = static_cast<std::uint64_t>(-1);
            missing = 0;
            continue;
        }
        const std::vector<std::uint64_t> there = index_words(database, wanted);
        std::vector<std::uint64_t> lost;
        std::set_difference(wanted.hashes.begin(), wanted.hashes.end(), there.begin(), there.end(), std::back_inserter(lost));
        missing += lost.size();
    }
    if (missing != 0) damaged(fmt::format("{} words of texts are missing in the index", missing));
    if (const std::size_t lost = words_of_nothing(database); lost != 0) damaged(fmt::format("{} words of the index lead nowhere", lost));
}

}  // namespace saggar
