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
};
using Places = std::unordered_map<EntityId, Best>;

class QueryWords : public WordVisitor {
public:
    void word(std::string_view folded, std::size_t) override { list.emplace_back(folded); }
    std::vector<std::string> list;
};

void note(Places& places, const FoundWord& found, double factor) {
    const EntityId entity = found.claim ? found.claim.subject : found.entity;
    const double score = weight_of(found.fields) * factor;
    Best& best = places[entity];
    if (score > best.score) best = Best{score, found.fields, found.claim};
}

void collect(const Snapshot& snapshot, std::string_view word, bool whole, double factor, Places& places) {
    snapshot.each_word(word, whole, [&](std::string_view found_word, const FoundWord& found) {
        note(places, found, found_word == word ? factor : factor * 0.6);
        return true;
    });
}

// Whether the words of a claim and of all its readings may be shown: one of them holds the words looked for.
bool may_quote(const Snapshot& snapshot, Privacy& privacy, ClaimRef ref) {
    const auto claim = snapshot.claim(ref);
    if (!claim || !privacy.may_show(*claim)) return false;
    return std::all_of(claim->evidence.begin(), claim->evidence.end(), [&](const EvidenceRow& row) { return privacy.may_show(row); });
}

// Whether the word stands anywhere where it may be read.
bool may_tell(const Snapshot& snapshot, Privacy& privacy, const std::string& word) {
    if (privacy.with_private()) return true;
    bool open = false;
    snapshot.each_word(word, true, [&](std::string_view, const FoundWord& found) {
        open = found.claim ? may_quote(snapshot, privacy, found.claim) : privacy.may_show(found.entity);
        return !open;
    });
    return open;
}

// The nearest words that the index holds and that may be told.
std::vector<std::string> near_words(const Snapshot& snapshot, Privacy& privacy, const std::string& word) {
    const std::size_t limit = word.size() <= 5 ? 1 : 2;
    std::vector<std::pair<std::size_t, std::string>> near;
    snapshot.each_distinct_word("", [&](std::string_view known) {
        const std::size_t far = distance(word, known, limit);
        if (far <= limit) near.emplace_back(far, known);
        return true;
    });
    std::sort(near.begin(), near.end());
    std::vector<std::string> words;
    std::size_t nearest = 0;
    for (const auto& [far, known] : near) {
        if (words.size() == most_near_words || (!words.empty() && far != nearest)) break;
        if (!may_tell(snapshot, privacy, known)) continue;
        nearest = far;
        words.push_back(known);
    }
    return words;
}

std::string text_of_claim(const Snapshot& snapshot, const Best& best) {
    const auto claim = snapshot.claim(best.claim);
    if (!claim) return {};
    if (best.field == FoundWord::text) return claim->claim.object_text;
    for (const EvidenceRow& row : claim->evidence) {
        const std::string& text = best.field == FoundWord::quote ? row.quote : row.remark;
        if (!text.empty()) return text;
    }
    return {};
}

std::string text_of_entity(const Snapshot& snapshot, EntityId id, std::uint8_t field) {
    if (field == FoundWord::title) {
        const auto source = snapshot.source(id);
        return source ? source->title : std::string();
    }
    const auto entity = snapshot.entity(id);
    if (!entity) return {};
    if (field == FoundWord::remark) return entity->remark;
    if (field == FoundWord::also && !entity->also.empty()) {
        std::string all;
        for (const Name& name : entity->also) all += (all.empty() ? "" : "; ") + name.text;
        return all;
    }
    return entity->label.text;
}

bool from_source(const Snapshot& snapshot, const Best& best, EntityId source) {
    if (!best.claim) return false;
    const auto claim = snapshot.claim(best.claim);
    return claim && std::any_of(claim->evidence.begin(), claim->evidence.end(),
                                [&](const EvidenceRow& row) { return row.source == source; });
}

// Things in which all words occur, with the sum of their scores.
Places all_words(const Snapshot& snapshot, Privacy& privacy, const std::vector<std::string>& words, std::vector<std::string>& taken) {
    Places together;
    for (std::size_t i = 0; i < words.size(); ++i) {
        Places places;
        collect(snapshot, words[i], false, 1, places);
        if (places.empty()) {
            for (const std::string& near : near_words(snapshot, privacy, words[i])) {
                collect(snapshot, near, true, 0.4, places);
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
    Privacy privacy(snapshot, options.with_private);
    const Places together = all_words(snapshot, privacy, query.list, answer.taken);
    const std::optional<EntityId> source =
        options.source.empty() ? std::nullopt : std::optional(snapshot.need(options.source));
    for (const auto& [id, best] : together) {
        if (!options.kind.empty() && snapshot.kind_of(id) != options.kind) continue;
        if (source && !from_source(snapshot, best, *source)) continue;
        FindHit hit{id, best.score, name_of(best.field), "", best.claim};
        hit.snippet = best.claim ? text_of_claim(snapshot, best) : text_of_entity(snapshot, id, best.field);
        const auto entity = snapshot.entity(id);
        if (hit.snippet.empty() || !entity) continue;  // the words of an older version, or not in force
        if (!privacy.may_show(id) || (best.claim && !may_quote(snapshot, privacy, best.claim))) continue;
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
