#include "queries/vocabulary_fit.h"

#include <fmt/format.h>

#include <functional>
#include <map>
#include <optional>

#include "kg/model/key.h"

namespace saggar {
namespace {

constexpr std::size_t most_examples = 3;

std::string_view kind_in(std::string_view key) {
    const auto parts = split_key(key);
    return parts ? parts->kind : std::string_view();
}

class VocabularyFit {
    using Example = std::function<std::string()>;

public:
    VocabularyFit(const Vocabulary& next, Privacy& privacy) : next_(next), privacy_(privacy) {}

    void thing(const std::string& key) {
        const std::string_view kind = kind_in(key);
        if (next_.find_kind(kind)) return;
        miss(fmt::format("unknown kind \"{}\"{}", kind, Vocabulary::suggestion(next_.nearest_kind(kind))),
             "add the kind to the vocabulary; a thing that was named once stays in the graph",
             [&] { return privacy_.may_show_key(key) ? key : std::string(); });
    }

    // `shown` is asked only where the claim does not fit.
    void claim(const Claim& claim, const std::function<bool()>& shown) {
        const Example example = [&] { return shown() ? fmt::format("{} {} {}", claim.subject, claim.relation, claim.object.text) : std::string(); };
        const Relation* const relation = known_relation(claim.relation, example);
        if (!relation) return;
        subject(*relation, claim.subject, example);
        const bool thing = claim.object.type == Value::Type::entity;
        const std::string_view kind = thing ? kind_in(claim.object.text) : std::string_view();
        if (thing ? next_.find_kind(kind) && !relation->takes_object(kind) : !relation->takes_value(claim.object.type)) {
            static constexpr std::string_view types[] = {"", "text", "number", "date"};
            miss(thing ? fmt::format("\"{}\" leads to things of the kind \"{}\"", relation->name, kind)
                       : fmt::format("\"{}\" leads to a {}", relation->name,
                                     types[static_cast<std::size_t>(claim.object.type)]),
                 fmt::format("there \"{}\" takes: {}; add what is missing to its \"to\"", relation->name,
                             relation->objects_in_words()),
                 example);
        }
        if (thing && relation->symmetric && claim.object.text < claim.subject) {
            miss(fmt::format("\"{}\" would read the same both ways, and stands the other way round in claims", relation->name),
                 "leave \"symmetric\" out, or withdraw these claims and enter them anew under the new vocabulary", example);
        }
    }

    void list(const Listing& listing, bool shown) {
        const Example example = [&] { return shown ? fmt::format("{} lists-all {} {}", listing.source, listing.subject, listing.relation) : std::string(); };
        if (const Relation* const relation = known_relation(listing.relation, example))
            subject(*relation, listing.subject, example);
    }

    std::vector<Misfit> all() {
        std::vector<Misfit> out;
        for (auto& [what, one] : found_) out.push_back(std::move(one));
        return out;
    }

private:
    const Relation* known_relation(const std::string& name, const Example& example) {
        if (const Relation* const relation = next_.find_relation(name)) return relation;
        if (const auto backwards = next_.find_use(name)) {
            miss(fmt::format("\"{}\" is there only \"{}\" read backwards", name, next_.relation(backwards->relation).name),
                 fmt::format("keep \"{}\" as the relation and \"{}\" as its inverse", name,
                             next_.relation(backwards->relation).name),
                 example);
        } else {
            miss(fmt::format("unknown relation \"{}\"{}", name, Vocabulary::suggestion(next_.nearest_relation(name))),
                 "add the relation to the vocabulary, or withdraw these records", example);
        }
        return nullptr;
    }

    void subject(const Relation& relation, std::string_view key, const Example& example) {
        const std::string_view kind = kind_in(key);
        if (!next_.find_kind(kind) || relation.takes_subject(kind)) return;
        miss(fmt::format("\"{}\" is said of things of the kind \"{}\"", relation.name, kind),
             fmt::format("there \"{}\" is said of: {}; add the kind to its \"from\"", relation.name,
                         relation.subjects_in_words()),
             example);
    }

    void miss(std::string what, std::string next_step, const Example& example) {
        Misfit& one = found_[what];
        one.what = std::move(what);
        one.next_step = std::move(next_step);
        ++one.count;
        if (one.examples.size() >= most_examples) return;
        if (std::string text = example(); !text.empty()) one.examples.push_back(std::move(text));
    }

    const Vocabulary& next_;
    Privacy& privacy_;
    std::map<std::string, Misfit> found_;
};

}  // namespace

std::vector<Misfit> misfits_of(const Snapshot& graph, const Vocabulary& next, Privacy& privacy) {
    VocabularyFit fit(next, privacy);
    // Sources are things too.
    graph.each_entity([&](EntityId, const Entity& one) { fit.thing(one.key); });
    graph.each_claim([&](const ClaimWithEvidence& one) { fit.claim(graph.to_record(one.claim), [&] { return privacy.may_show(one); }); });
    graph.each_listing([&](const ListingRow& one) { fit.list(graph.to_record(one), privacy.may_show(one)); });
    return fit.all();
}

std::vector<std::string> kinds_missing(const Vocabulary& first, const Vocabulary& second) {
    std::vector<std::string> out;
    for (const Kind& kind : second.kinds())
        if (!first.find_kind(kind.name)) out.push_back(kind.name);
    return out;
}

std::vector<std::string> relations_missing(const Vocabulary& first, const Vocabulary& second) {
    std::vector<std::string> out;
    for (const Relation& relation : second.relations())
        if (!first.find_relation(relation.name)) out.push_back(relation.name);
    return out;
}

}  // namespace saggar
