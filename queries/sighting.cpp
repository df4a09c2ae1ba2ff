#include "queries/sighting.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <vector>

#include "kg/model/key.h"
#include "kg/model/nearest.h"
#include "kg/model/text_lines.h"
#include "kg/model/vocabulary.h"
#include "kg/time/written.h"
#include "queries/cite_date.h"
#include "queries/find.h"

namespace saggar {

namespace {

constexpr std::size_t most_near = 20'000;  // keys among which the nearest is looked for

class SightingReader {
public:
    SightingReader(const Snapshot& snapshot, Privacy& privacy, std::string_view text, const std::string& where, Problems& problems)
        : snapshot_(snapshot), privacy_(privacy), text_(text), where_(where), problems_(problems) {}

    std::optional<Sighting> read(bool seen) {
        const std::size_t begin = text_.find_first_not_of(' ');
        if (begin == std::string_view::npos)
            return fail("sighting-empty", 0, text_.size(), "nothing is said", "write a relation and what was seen, for example \"has-feature feature:foot-ring\"");
        const std::size_t end = std::min(text_.find(' ', begin), text_.size());
        const std::string name(text_.substr(begin, end - begin));
        const auto use = snapshot_.vocabulary().find_use(name);
        if (!use)
            return fail("sighting-relation", begin, end,
                        fmt::format("there is no relation \"{}\"{}", name, Vocabulary::suggestion(snapshot_.vocabulary().nearest_relation(name))),
                        "see `saggar show vocabulary`");
        relation_ = &snapshot_.vocabulary().relation(use->relation);
        if (use->inverse || relation_->identity)
            return fail("sighting-relation", begin, end, fmt::format("\"{}\" says nothing that can be seen on a piece", name),
                        use->inverse ? fmt::format("name it from the piece: \"{}\"", relation_->name) : "name what is seen");
        object_begin_ = text_.find_first_not_of(' ', end);
        if (object_begin_ == std::string_view::npos)
            return fail("sighting-object", begin, end, fmt::format("\"{}\" is without an object", name),
                        fmt::format("write what was seen after it: {}", relation_->objects_in_words()));
        object_end_ = text_.find_last_not_of(' ') + 1;
        Sighting sighting;
        sighting.seen = seen;
        sighting.relation = relation_->name;
        if (!read_object(std::string(text_.substr(object_begin_, object_end_ - object_begin_)), sighting)) return std::nullopt;
        return sighting;
    }

private:
    std::nullopt_t fail(const char* id, std::size_t begin, std::size_t end, std::string message, std::string next) {
        Problem problem;
        problem.id = id;
        problem.place = TextLines("", text_).place(begin, end);
        problem.place.file = where_;
        if (text_.find('\n') == std::string_view::npos) problem.place.line = 0;
        problem.message = std::move(message);
        problem.next_step = std::move(next);
        problems_.add(std::move(problem));
        return std::nullopt;
    }

    bool can_be_of_a_piece() const {
        const Relation* example = snapshot_.vocabulary().find_relation("instance-of");
        return !example || std::any_of(example->from.begin(), example->from.end(), [this](const std::string& kind) { return relation_->takes_subject(kind); });
    }

    bool take(Sighting& sighting, EntityId id) {
        sighting.object = id;
        sighting.label = snapshot_.label_of(id);
        return true;
    }

    std::optional<EntityId> known(const std::string& key) {
        const auto id = snapshot_.find(key);
        return id && privacy_.may_show(*id) ? id : std::nullopt;
    }

    bool read_object(const std::string& words, Sighting& sighting) {
        if (const auto parts = split_key(words); parts && snapshot_.vocabulary().find_kind(parts->kind)) {
            if (!relation_->takes_object(parts->kind))
                return fail("sighting-kind", object_begin_, object_end_,
                            fmt::format("{} takes {}, not a {}", relation_->name, relation_->objects_in_words(), parts->kind),
                            "name the relation that fits, or another object"), false;
            if (const auto id = known(words)) return take(sighting, *id);
            return unknown(words), false;
        }
        const std::string slug = slugify(words);
        for (const std::string& kind : relation_->to) {
            if (slug.empty()) break;
            if (const auto id = known(kind + ":" + slug)) return take(sighting, *id);
        }
        if (const auto id = by_label(words)) return take(sighting, *id);
        return read_value(words, sighting);
    }

    // The one thing of a fitting kind that is called so.
    std::optional<EntityId> by_label(const std::string& words) {
        std::optional<EntityId> found;
        for (const std::string& kind : relation_->to) {
            FindOptions options;
            options.kind = kind;
            options.with_private = privacy_.with_private();
            for (const FindHit& hit : saggar::find(snapshot_, words, options).hits) {
                const auto entity = snapshot_.entity(hit.entity);
                bool called = fold(snapshot_.label_of(hit.entity)) == fold(words);
                if (entity)
                    for (const auto& also : entity->also) called = called || fold(also.text) == fold(words);
                if (!called) continue;
                if (found && *found != hit.entity) return std::nullopt;
                found = hit.entity;
            }
        }
        return found;
    }

    bool read_value(const std::string& words, Sighting& sighting) {
        if (relation_->to_date) {
            const auto dates = time::read_edtf_or_written(words);
            if (!sighting.seen || !can_be_of_a_piece()) {
                fail("sighting-date", object_begin_, object_end_,
                     sighting.seen ? fmt::format("{} dates nothing that can be on the table", relation_->name) : "a date cannot be looked for and not be there",
                     sighting.seen ? "date the piece itself, for example \"made-in-year 1950/1955\"" : "say with --seen when it was made");
                return false;
            }
            if (dates && dates->size() == 1) {
                sighting.value = {Value::Type::date, dates->front().edtf, ""};
                sighting.label = date_in_words(dates->front().edtf);
                return true;
            }
            fail("sighting-date", object_begin_, object_end_, fmt::format("\"{}\" cannot be read as a date", words),
                 "write EDTF (1951/1954) or words such as \"1951-54\"; see `saggar date --read`");
            return false;
        }
        if (relation_->to_number && !relation_->to_text) {
            fail("sighting-number", object_begin_, object_end_, fmt::format("\"{}\" is a measure, and measures are not compared", words),
                 "name what is seen: an article, a feature, a mark, a treatment, a glaze, a year");
            return false;
        }
        if (!relation_->to_text) return unknown(words), false;
        // Words that nobody has used are more likely a slip than something new.
        if (claims_with_text(snapshot_, privacy_, relation_->name, words, 1).empty()) return unknown(words), false;
        sighting.value = {Value::Type::text, words, ""};
        sighting.label = words;
        return true;
    }

    void unknown(const std::string& words) {
        std::vector<std::string> candidates;
        const bool is_named_key = split_key(words).has_value();
        for (const std::string& kind : relation_->to)
            for (const std::string& key : snapshot_.keys_with_prefix(kind + ":", most_near))
                if (known(key)) candidates.push_back(is_named_key ? key : key.substr(kind.size() + 1));
        std::string near;
        FindOptions options;
        options.most = 3;
        options.with_private = privacy_.with_private();
        for (const std::string& kind : relation_->to) {
            options.kind = kind;
            const std::string looked_for = is_named_key ? words.substr(words.find(':') + 1) : words;
            for (const FindHit& hit : saggar::find(snapshot_, looked_for, options).hits) near += (near.empty() ? "" : ", ") + snapshot_.key_of(hit.entity);
        }
        const auto nearest = nearest_word(is_named_key ? words : slugify(words), candidates);
        fail("sighting-object", object_begin_, object_end_,
             fmt::format("the graph knows no {} \"{}\"{}", relation_->objects_in_words(), words, Vocabulary::suggestion(nearest)),
             near.empty() ? "look for it with `saggar find`; it may be new to the record" : "known and like it: " + near);
    }

    const Snapshot& snapshot_;
    Privacy& privacy_;
    std::string_view text_;
    const std::string& where_;
    Problems& problems_;
    const Relation* relation_ = nullptr;
    std::size_t object_begin_ = 0, object_end_ = 0;
};

struct FirstWord : WordVisitor {
    std::string first;
    void word(std::string_view folded, std::size_t) override {
        if (first.empty()) first = folded;
    }
};

}  // namespace

std::vector<ClaimWithEvidence> claims_with_text(const Snapshot& snapshot, Privacy& privacy, const std::string& relation,
                                                const std::string& text, std::size_t most) {
    FirstWord visitor;
    each_word(text, visitor);
    std::vector<ClaimWithEvidence> found;
    const RelationId id = snapshot.relation_id(relation);
    if (!id || visitor.first.empty()) return found;
    const std::string wanted = fold(text);
    std::set<ClaimRef> seen;
    snapshot.each_word(visitor.first, true, [&](std::string_view, const FoundWord& at) {
        if (!(at.fields & FoundWord::text) || at.claim.relation != id || !seen.insert(at.claim).second) return true;
        auto claim = snapshot.claim(at.claim);
        if (claim && !claim->claim.has_entity_object() && fold(claim->claim.object_text) == wanted && privacy.may_show(*claim))
            found.push_back(*std::move(claim));
        return found.size() < most;
    });
    return found;
}

std::optional<Sighting> read_sighting(const Snapshot& snapshot, Privacy& privacy, std::string_view text, bool seen,
                                      const std::string& where, Problems& problems) {
    return SightingReader(snapshot, privacy, text, where, problems).read(seen);
}

}  // namespace saggar
