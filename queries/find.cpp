#include "queries/privacy.h"
#include "queries/find.h"

#include <algorithm>
#include <unordered_map>

#include "kg/model/fault.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

constexpr std::size_t most_near_words = 8;

double weight_of(std::uint8_t field) {
    switch (field) {
        case FoundWord::label:
            return 10;
        case FoundWord::also:
            return 8;
        case FoundWord::title:
            return 6;
        case FoundWord::text:
            return 4;
        case FoundWord::quote:
            return 2;
        default:
            return 1;
    }
}

std::string name_of(std::uint8_t field) {
    switch (field) {
        case FoundWord::label:
            return "label";
        case FoundWord::also:
            return "also";
        case FoundWord::title:
            return "title";
        case FoundWord::text:
            return "text";
        case FoundWord::quote:
            return "quote";
        default:
            return "remark";
    }
}

// Levenshtein distance, or `limit` + 1 where it is larger. Bytes stand for signs: folded words are mostly ASCII.
std::size_t distance(std::string_view a, std::string_view b, std::size_t limit) {
    if (std::max(a.size(), b.size()) - std::min(a.size(), b.size()) > limit) return limit + 1;
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t corner = row[0];
        row[0] = i;
        std::size_t least = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t above = row[j];
            row[j] = std::min({above + 1, row[j - 1] + 1, corner + (a[i - 1] == b[j - 1] ? 0 : 1)});
            corner = above;
            least = std::min(least, row[j]);
        }
        if (least > limit) return limit + 1;
    }
    return row[b.size()];
}

struct Best {
    double score = 0;
    std::uint8_t field = 0;
    ClaimRef claim;
    std::string text;
};
using Places = std::unordered_map<EntityId, Best>;

class QueryWords : public WordVisitor {
public:
    void word(std::string_view folded, std::size_t) override { list.emplace_back(folded); }
    std::vector<std::string> list;
};

// Whether a word of the text is `wanted`, or begins with it.
bool holds(const std::string& text, std::string_view wanted, bool whole) {
    struct : WordVisitor {
        void word(std::string_view folded, std::size_t) override {
            found = found || (whole ? folded == wanted : folded.substr(0, wanted.size()) == wanted);
        }
        std::string_view wanted;
        bool whole = false, found = false;
    } visitor;
    visitor.wanted = wanted;
    visitor.whole = whole;
    each_word(text, visitor);
    return visitor.found;
}

// The index remembers words of older versions, of what was withdrawn and of what is private: a place counts where its text, as it
// stands and may be read, still holds the word.
class Reader {
public:
    Reader(const Snapshot& snapshot, const FindOptions& options, std::optional<EntityId> source)
        : snapshot_(snapshot), privacy_(snapshot, options.with_private), source_(source) {}

    // The text in which the word stands; empty: nowhere.
    std::string text(const FoundWord& found, std::string_view word, bool whole) {
        return found.claim ? text_of_claim(found, word, whole) : text_of_entity(found, word, whole);
    }

    void collect(std::string_view word, bool whole, double factor, Places& places) {
        snapshot_.each_word(word, whole, [&](std::string_view found_word, const FoundWord& found) {
            const EntityId entity = found.claim ? found.claim.subject : found.entity;
            const double score = weight_of(found.fields) * (found_word == word ? factor : factor * 0.6);
            const auto known = places.find(entity);
            if (known != places.end() && known->second.score >= score) return true;
            if (std::string stands = text(found, found_word, true); !stands.empty())
                places[entity] = Best{score, found.fields, found.claim, std::move(stands)};
            return true;
        });
    }

    // The nearest words that stand anywhere.
    std::vector<std::string> near_words(const std::string& word) {
        const std::size_t limit = word.size() <= 5 ? 1 : 2;
        std::vector<std::pair<std::size_t, std::string>> near;
        snapshot_.each_distinct_word("", [&](std::string_view known) {
            const std::size_t far = distance(word, known, limit);
            if (far <= limit) near.emplace_back(far, known);
            return true;
        });
        std::sort(near.begin(), near.end());
        std::vector<std::string> words;
        std::size_t nearest = 0;
        for (const auto& [far, known] : near) {
            if (words.size() == most_near_words || (!words.empty() && far != nearest)) break;
            if (!stands_anywhere(known)) continue;
            nearest = far;
            words.push_back(known);
        }
        return words;
    }

    bool may_show(EntityId thing) { return snapshot_.entity(thing) && privacy_.may_show(thing); }

private:
    bool stands_anywhere(const std::string& word) {
        bool stands = false;
        snapshot_.each_word(word, true, [&](std::string_view, const FoundWord& found) {
            stands = !text(found, word, true).empty();
            return !stands;
        });
        return stands;
    }

    std::string text_of_claim(const FoundWord& found, std::string_view word, bool whole) {
        const auto claim = snapshot_.claim(found.claim);
        if (!claim || !privacy_.may_show(*claim)) return {};
        if (found.fields == FoundWord::text) {
            const bool of_source = !source_ || std::any_of(claim->evidence.begin(), claim->evidence.end(), [this](const EvidenceRow& row) {
                return row.source == *source_;
            });
            return of_source && holds(claim->claim.object_text, word, whole) ? claim->claim.object_text : std::string();
        }
        for (const EvidenceRow& row : claim->evidence) {
            const std::string& words = found.fields == FoundWord::quote ? row.quote : row.remark;
            if ((!source_ || row.source == *source_) && holds(words, word, whole) && privacy_.may_show(row)) return words;
        }
        if (found.fields != FoundWord::remark || source_) return {};
        for (const ArgumentRow& row : snapshot_.arguments_for(found.claim))
            if (holds(row.reason, word, whole) && privacy_.may_show(row)) return row.reason;
        return {};
    }

    std::string text_of_entity(const FoundWord& found, std::string_view word, bool whole) {
        if (source_ || !privacy_.may_show(found.entity)) return {};
        std::vector<std::string> texts;
        if (found.fields == FoundWord::title) {
            if (const auto source = snapshot_.source(found.entity)) texts = {source->title, source->author, source->collection};
        } else if (const auto entity = snapshot_.entity(found.entity)) {
            if (found.fields == FoundWord::label) texts = {entity->label.text};
            if (found.fields == FoundWord::remark) texts = {entity->remark};
            if (found.fields == FoundWord::also)
                for (const Name& name : entity->also) texts.push_back(name.text);
        }
        for (const std::string& one : texts)
            if (holds(one, word, whole)) return one;
        return {};
    }

    const Snapshot& snapshot_;
    Privacy privacy_;
    std::optional<EntityId> source_;
};

// Things in which all words occur, with the sum of their scores.
Places all_words(Reader& reader, const std::vector<std::string>& words, std::vector<std::string>& taken) {
    Places together;
    for (std::size_t i = 0; i < words.size(); ++i) {
        Places places;
        reader.collect(words[i], false, 1, places);
        if (places.empty()) {
            for (const std::string& near : reader.near_words(words[i])) {
                reader.collect(near, true, 0.4, places);
                taken.push_back(words[i] + " read as " + near);
            }
        }
        if (i == 0) {
            together = std::move(places);
            continue;
        }
        std::erase_if(together, [&](const auto& item) { return places.count(item.first) == 0; });
        for (auto& [id, best] : together) {
            const Best& more = places.at(id);
            const double sum = best.score + more.score;
            if (more.score > best.score) best = more;
            best.score = sum;
        }
    }
    return together;
}

}  // namespace

FindAnswer find(const Snapshot& snapshot, std::string_view words, const FindOptions& options) {
    QueryWords query;
    each_word(words, query);
    if (query.list.empty()) throw UsageFault("there is no word to look for", "give at least one letter or digit");
    FindAnswer answer;
    const std::optional<EntityId> source =
        options.source.empty() ? std::nullopt : std::optional(snapshot.need(options.source));
    Reader reader(snapshot, options, source);
    for (auto& [id, best] : all_words(reader, query.list, answer.taken)) {
        if ((!options.kind.empty() && snapshot.kind_of(id) != options.kind) || !reader.may_show(id)) continue;
        FindHit hit{id, best.score, name_of(best.field), best.text, best.claim};
        answer.hits.push_back(std::move(hit));
    }
    std::sort(answer.hits.begin(), answer.hits.end(), [&](const FindHit& a, const FindHit& b) {
        return a.score != b.score ? a.score > b.score : snapshot.key_of(a.entity) < snapshot.key_of(b.entity);
    });
    answer.found = answer.hits.size();
    if (answer.hits.size() > options.most) answer.hits.resize(options.most);
    return answer;
}

}  // namespace saggar
