#include "queries/find.h"

#include <algorithm>
#include <functional>
#include <unordered_map>

#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "queries/privacy.h"
#include "queries/word_distance.h"

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

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool has_digit(std::string_view word) { return std::any_of(word.begin(), word.end(), is_digit); }

// A place where a word of the query may stand, before its text is looked at.
struct Posting {
    double score = 0;
    std::uint32_t word = 0;  // into the words met
    FoundWord found;
};
// Of one word of the query: the places by thing.
struct WordPostings {
    std::unordered_map<EntityId, std::vector<Posting>> places;
    std::vector<std::string> words;  // of the index
    bool cut = false;                // there were more
};
constexpr std::size_t most_postings = 2'000'000;
constexpr std::size_t most_read = 20'000;

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

    void collect(std::string_view word, bool whole, double factor, WordPostings& into) {
        std::size_t count = 0;
        snapshot_.each_word(word, whole, [&](std::string_view found_word, const FoundWord& found) {
            if (into.words.empty() || into.words.back() != found_word) into.words.emplace_back(found_word);
            const double score = weight_of(found.fields) * (found_word == word ? factor : factor * 0.6);
            into.places[found.claim ? found.claim.subject : found.entity].push_back(
                {score, static_cast<std::uint32_t>(into.words.size() - 1), found});
            into.cut = ++count >= most_postings;
            return !into.cut;
        });
    }

    // The best place whose text holds the word; nothing where none does.
    const Posting* best_of(std::vector<Posting>& places, const std::vector<std::string>& words, std::string& text_there) {
        std::stable_sort(places.begin(), places.end(), [](const Posting& a, const Posting& b) { return a.score > b.score; });
        for (const Posting& one : places) {
            text_there = text(one.found, words[one.word], true);
            if (!text_there.empty()) return &one;
        }
        return nullptr;
    }

    bool any_stands(const WordPostings& of) {
        return std::any_of(of.places.begin(), of.places.end(), [&](const auto& item) {
            return std::any_of(item.second.begin(), item.second.end(),
                               [&](const Posting& one) { return !text(one.found, of.words[one.word], true).empty(); });
        });
    }

    // Two words that the word is put together from, of which the first stands as it is: "a" and "123".
    std::optional<std::pair<std::string, std::string>> halves(const std::string& word) {
        for (std::size_t cut = 1; cut < word.size(); ++cut) {
            if ((static_cast<unsigned char>(word[cut]) & 0xC0) == 0x80) continue;
            const std::string first = word.substr(0, cut), second = word.substr(cut);
            const bool numbered = is_digit(second.front()) != is_digit(first.back());
            const bool long_enough = first.size() >= 3 && second.size() >= 3 && !has_digit(word);
            if ((numbered || long_enough) && stands_anywhere(first) && stands_anywhere(second)) return std::pair(first, second);
        }
        return std::nullopt;
    }

    // The nearest words that stand anywhere.
    std::vector<std::string> near_words(const std::string& word) {
        const std::vector<char32_t> signs = signs_of(word);
        const std::size_t limit = signs.size() <= 5 ? 1 : 2;
        std::vector<std::pair<std::size_t, std::string>> near;
        if (signs.size() < 3 || has_digit(word)) return {};
        snapshot_.each_distinct_word("", [&](std::string_view known) {
            const std::size_t far = word_distance(signs, signs_of(known), limit);
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

    // Whether words that begin with it stand anywhere.
    bool stands(const std::string& word) {
        bool found_it = false;
        snapshot_.each_word(word, false, [&](std::string_view known, const FoundWord& found) {
            found_it = !text(found, known, true).empty();
            return !found_it;
        });
        return found_it;
    }

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

class WordSearch {
public:
    WordSearch(const Snapshot& snapshot, const FindOptions& options, std::optional<EntityId> source)
        : snapshot_(snapshot), options_(options), reader_(snapshot, options, source) {}

    FindAnswer run(const std::vector<std::string>& words) {
        answer_ = search(words);
        // "A 123" where only "A123" stands.
        for (std::size_t i = 0; i + 1 < words.size() && answer_.hits.empty(); ++i) {
            std::vector<std::string> joined = words;
            joined[i] += joined[i + 1];
            joined.erase(joined.begin() + static_cast<std::ptrdiff_t>(i) + 1);
            if (!reader_.stands(joined[i])) continue;
            answer_ = search(joined);
            if (!answer_.hits.empty()) answer_.taken.insert(answer_.taken.begin(), words[i] + " " + words[i + 1] + " read as " + joined[i]);
        }
        return std::move(answer_);
    }

private:
    struct Candidate {
        double bound = 0;
        EntityId entity;
    };

    // The places of a word, or of what it was most likely meant for.
    void add_word(const std::string& word, std::vector<std::string>& taken) {
        WordPostings of;
        reader_.collect(word, false, 1, of);
        if (reader_.any_stands(of)) return postings_.push_back(std::move(of));
        of = {};
        if (const auto parts = reader_.halves(word)) {
            taken.push_back(word + " read as " + parts->first + " " + parts->second);
            WordPostings second;
            reader_.collect(parts->first, true, 0.8, of);
            reader_.collect(parts->second, false, 0.8, second);
            postings_.push_back(std::move(of));
            return postings_.push_back(std::move(second));
        }
        for (const std::string& near : reader_.near_words(word)) {
            reader_.collect(near, true, 0.4, of);
            taken.push_back(word + " read as " + near);
        }
        postings_.push_back(std::move(of));
    }

    // Things in which all words may occur, with the sum of their best scores, best first.
    std::vector<Candidate> candidates() {
        std::vector<Candidate> all;
        const auto fewest = std::min_element(postings_.begin(), postings_.end(),
                                             [](const auto& a, const auto& b) { return a.places.size() < b.places.size(); });
        for (const auto& [entity, unused] : fewest->places) {
            if (!options_.kind.empty() && snapshot_.kind_of(entity) != options_.kind) continue;
            double bound = 0;
            bool everywhere = true;
            for (const WordPostings& of : postings_) {
                const auto places = of.places.find(entity);
                everywhere = everywhere && places != of.places.end();
                if (!everywhere) break;
                double best = 0;
                for (const Posting& one : places->second) best = std::max(best, one.score);
                bound += best;
            }
            if (everywhere) all.push_back({bound, entity});
        }
        std::sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
            return a.bound != b.bound ? a.bound > b.bound : a.entity.value < b.entity.value;
        });
        return all;
    }

    std::optional<FindHit> look_at(EntityId entity) {
        if (!reader_.may_show(entity)) return std::nullopt;
        FindHit hit{entity, 0, "", "", {}};
        double best = 0;
        for (WordPostings& of : postings_) {
            std::string text;
            const Posting* const place = reader_.best_of(of.places.at(entity), of.words, text);
            if (!place) return std::nullopt;
            hit.score += place->score;
            if (place->score <= best) continue;
            best = place->score;
            hit.field = name_of(place->found.fields);
            hit.snippet = std::move(text);
            hit.claim = place->found.claim;
        }
        return hit;
    }

    FindAnswer search(const std::vector<std::string>& words) {
        FindAnswer answer;
        postings_.clear();
        for (const std::string& word : words) add_word(word, answer.taken);
        const std::vector<Candidate> all = candidates();
        const bool read_all = all.size() <= most_read;
        std::vector<double> scores;  // of the hits, best first, as far as they are shown
        std::size_t seen = 0;
        for (const Candidate& one : all) {
            const bool enough = scores.size() == options_.most && scores.back() >= one.bound;
            if (!read_all && enough) break;
            ++seen;
            auto hit = look_at(one.entity);
            if (!hit) continue;
            scores.insert(std::upper_bound(scores.begin(), scores.end(), hit->score, std::greater<>()), hit->score);
            if (scores.size() > options_.most) scores.pop_back();
            answer.hits.push_back(std::move(*hit));
        }
        answer.more_unread = seen < all.size() || std::any_of(postings_.begin(), postings_.end(), [](const WordPostings& of) { return of.cut; });
        std::sort(answer.hits.begin(), answer.hits.end(), [&](const FindHit& a, const FindHit& b) {
            return a.score != b.score ? a.score > b.score : snapshot_.key_of(a.entity) < snapshot_.key_of(b.entity);
        });
        answer.found = answer.hits.size();
        if (answer.hits.size() > options_.most) answer.hits.resize(options_.most);
        return answer;
    }

    const Snapshot& snapshot_;
    const FindOptions& options_;
    Reader reader_;
    std::vector<WordPostings> postings_;
    FindAnswer answer_;
};

}  // namespace

FindAnswer find(const Snapshot& snapshot, std::string_view words, const FindOptions& options) {
    QueryWords query;
    each_word(words, query);
    if (query.list.empty()) throw UsageFault("there is no word to look for", "give at least one letter or digit");
    const std::optional<EntityId> source =
        options.source.empty() ? std::nullopt : std::optional(snapshot.need(options.source));
    return WordSearch(snapshot, options, source).run(query.list);
}

}  // namespace saggar
