#include "queries/identify_ways.h"

#include <algorithm>

#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/store/link_choice.h"
#include "kg/weigh/profile.h"

namespace saggar {

namespace {

bool leads(const Relation& relation, const std::string& from, const std::string& to) {
    return relation.at_most_one && !relation.identity && !relation.symmetric && relation.takes_subject(from) && relation.takes_object(to);
}

// Several claims one after another.
Chain joined(const Chain& first, const Chain& then) {
    Chain chain = first;
    chain.insert(chain.end(), then.begin(), then.end());
    return chain;
}

}  // namespace

IdentifyPlan identify_plan(const Snapshot& snapshot, const Profile& profile, const std::string& kind) {
    const Vocabulary& vocabulary = snapshot.vocabulary();
    IdentifyPlan plan;
    const Relation* example = vocabulary.find_relation(example_relation);
    if (example) plan.kinds.insert(example->to.begin(), example->to.end());
    if (!kind.empty() && !vocabulary.find_kind(kind))
        throw UsageFault("there is no kind " + kind + Vocabulary::suggestion(vocabulary.nearest_kind(kind)), "see `saggar show vocabulary`");
    if (plan.kinds.empty() && kind.empty())
        throw UsageFault("the vocabulary does not say what pieces are examples of (\"instance-of\")", "say what kind of thing it may be with --kind");
    plan.kind = kind;
    const auto count_broader = [&](const std::string& one) {
        return std::count_if(plan.kinds.begin(), plan.kinds.end(), [&](const std::string& other) {
            return other != one && std::any_of(vocabulary.relations().begin(), vocabulary.relations().end(),
                                               [&](const Relation& relation) { return leads(relation, one, other); });
        });
    };
    if (kind.empty()) {
        std::ptrdiff_t most = -1;
        for (const std::string& one : plan.kinds) {
            const auto broader = count_broader(one);
            if (broader <= most || snapshot.keys_with_prefix(one + ":", 1).empty()) continue;
            most = broader;
            plan.kind = one;
        }
        if (plan.kind.empty()) throw UsageFault("the graph has nothing that a piece could be an example of", "load shapes or items first");
    }
    for (const Relation& relation : vocabulary.relations()) {
        for (const std::string& other : plan.kinds) {
            if (other == plan.kind || plan.kinds.count(plan.kind) == 0) continue;
            if (leads(relation, plan.kind, other) && (plan.broader.empty() || plan.broader.back() != &relation)) plan.broader.push_back(&relation);
            if (leads(relation, other, plan.kind) && (plan.narrower.empty() || plan.narrower.back() != &relation)) plan.narrower.push_back(&relation);
        }
        const auto& shown = profile.identifying.shown;
        if (std::none_of(shown.begin(), shown.end(), [&](const auto& one) { return one.first == relation.name; })) continue;
        plan.shown.push_back(&relation);
        const bool on_pieces = example && std::any_of(example->from.begin(), example->from.end(), [&](const std::string& one) { return relation.takes_subject(one); });
        const bool says_what = !plan.broader.empty() && plan.broader.back() == &relation;
        if (on_pieces || says_what) plan.looked_at.push_back(&relation);
    }
    return plan;
}

std::vector<const Relation*> WayFinder::direct(const Sighting& sighting) const {
    const Vocabulary& vocabulary = snapshot_.vocabulary();
    const Relation* asked = vocabulary.find_relation(sighting.relation);
    const bool is_entity = static_cast<bool>(sighting.object);
    const std::string kind(is_entity ? snapshot_.kind_of(sighting.object) : std::string_view());
    if (asked && sighting.relation != example_relation && asked->takes_subject(plan_.kind) &&
        (is_entity ? asked->takes_object(kind) : asked->takes_value(sighting.value.type)))
        return {asked};
    std::vector<const Relation*> found;
    if (!is_entity || plan_.kinds.count(kind) == 0) return found;
    for (const Relation* relation : plan_.broader)
        if (relation->takes_object(kind)) found.push_back(relation);
    if (!found.empty() || kind == plan_.kind) return found;
    // Things of the kind may have several: a shape comprises articles.
    for (const Relation* relation : plan_.shown)
        if (relation->takes_subject(plan_.kind) && relation->takes_object(kind)) found.push_back(relation);
    return found;
}

std::vector<WayFinder::Element> WayFinder::subjects(EntityId object, const Relation& relation) {
    std::vector<Element> found;
    const RelationId id = snapshot_.relation_id(relation.name);
    if (!id) return found;
    LinkChoice choice;
    choice.add(id, false);
    std::vector<Link> links;
    for (const DateWalk& name : walker_.under_all_names({object, {}})) {
        snapshot_.links(name.to, choice, links);
        for (const Link& link : links) {
            if (taken_ + found.size() >= most_) return found;
            if (!privacy_.may_show(link.claim) || !privacy_.may_show(link.other)) continue;
            found.push_back({link.other, joined({link.claim}, name.claims), true});
        }
    }
    return found;
}

std::vector<WayFinder::Element> WayFinder::with_value(const Relation& relation, const Value& value) {
    std::vector<Element> found;
    for (const ClaimWithEvidence& claim : claims_with_text(snapshot_, privacy_, relation.name, value.text, most_ - taken_))
        if (claim.claim.object_unit == value.unit) found.push_back({claim.claim.ref.subject, {claim.claim.ref}, true});
    return found;
}

std::vector<WayFinder::Element> WayFinder::start(const Sighting& sighting) {
    std::vector<const Relation*> relations = direct(sighting);
    const Relation* asked = snapshot_.vocabulary().find_relation(sighting.relation);
    if (asked && sighting.relation != example_relation && std::find(relations.begin(), relations.end(), asked) == relations.end())
        relations.push_back(asked);
    std::vector<Element> found;
    for (const Relation* relation : relations)
        for (Element& one : sighting.object ? subjects(sighting.object, *relation) : with_value(*relation, sighting.value))
            found.push_back(std::move(one));
    // The thing itself, where it was said to be an example of one of the candidates or of something broader.
    if (sighting.relation == example_relation && sighting.object && is_kind(sighting.object)) found.push_back({sighting.object, {}, true});
    return found;
}

void WayFinder::add(EntityId candidate, Chain chain, bool denies, Found& found) {
    if (!privacy_.may_show(candidate)) return;
    ++taken_;
    found.ways[candidate].push_back({std::move(chain), denies});
}

void WayFinder::take(const Element& element, Found& found, bool deeper) {
    if (taken_ >= most_) {
        found.complete = false;
        return;
    }
    const std::string kind(snapshot_.kind_of(element.thing));
    if (kind == plan_.kind) {
        add(element.thing, element.chain, element.denies, found);
        return;
    }
    for (const Relation* relation : plan_.broader) {
        if (!relation->takes_object(kind)) continue;
        for (const Element& one : subjects(element.thing, *relation))
            if (is_kind(one.thing)) add(one.thing, joined(one.chain, element.chain), element.denies, found);
    }
    for (const Relation* relation : plan_.narrower) {
        const RelationId id = snapshot_.relation_id(relation->name);
        if (!relation->takes_subject(kind) || !id) continue;
        for (const ClaimWithEvidence& claim : snapshot_.claims_of(element.thing, id)) {
            if (!claim.claim.has_entity_object() || !is_kind(claim.claim.object) || !privacy_.may_show(claim)) continue;
            add(claim.claim.object, joined({claim.claim.ref}, element.chain), false, found);
        }
    }
    if (!deeper || plan_.kinds.count(kind) != 0) return;
    for (const Relation* relation : plan_.shown) {
        if (!relation->takes_object(kind)) continue;
        for (Element& one : subjects(element.thing, *relation)) {
            one.chain = joined(one.chain, element.chain);
            one.denies = false;
            take(one, found, false);
        }
    }
}

WayFinder::Found WayFinder::find(const Sighting& sighting, std::size_t most) {
    Found found;
    most_ = most;
    taken_ = 0;
    for (const Element& element : start(sighting)) take(element, found, true);
    if (taken_ >= most_) found.complete = false;
    return found;
}

}  // namespace saggar
