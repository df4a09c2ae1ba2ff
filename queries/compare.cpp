#include "queries/compare.h"

#include <algorithm>
#include <map>
#include <set>

#include "kg/model/fault.h"
#include "kg/model/key.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"
#include "queries/date_walk.h"
#include "queries/hazard.h"
#include "queries/statement.h"

namespace saggar {

namespace {

// An object by what it is called: the smallest key of its names, or its value.
struct ObjectName {
    std::string text, unit;
    Value::Type type = Value::Type::entity;
    auto operator<=>(const ObjectName&) const = default;
};

struct Use {
    const Relation* relation = nullptr;
    bool inverse = false;
    std::string name() const { return inverse ? relation->inverse : relation->name; }
};

class Comparison {
public:
    Comparison(const Snapshot& snapshot, Weigher& weigher, const CompareQuestion& question)
        : snapshot_(snapshot),
          question_(question),
          privacy_(snapshot, question.with_private),
          walker_(snapshot, question.with_private),
          cells_(snapshot, weigher, privacy_, walker_.aliases(), question.supported.value_or(weigher.profile().supported), question.figures) {
        answer_.supported = question.supported.value_or(weigher.profile().supported);
        answer_.profile = weigher.profile().title();
    }

    CompareAnswer run() {
        name_things();
        std::size_t room = question_.most_cells;
        for (const Use& use : uses()) read(use, room);
        answer_.hidden = hidden_.size();
        if (answer_.things.size() > 2) find_concepts();
        return std::move(answer_);
    }

private:
    using Claims = std::map<ObjectName, std::vector<std::vector<ClaimWithEvidence>>>;  // by object, then by thing

    NamedThing named(EntityId id) {
        NamedThing thing{id, {id}};
        for (const Alias& alias : walker_.other_names(id)) thing.names.push_back(alias.other);
        return thing;
    }

    void name_things() {
        std::string one;
        for (const EntityId id : question_.things) {
            const auto same = std::find_if(answer_.things.begin(), answer_.things.end(), [id](const NamedThing& known) {
                return std::find(known.names.begin(), known.names.end(), id) != known.names.end();
            });
            if (same == answer_.things.end()) {
                answer_.things.push_back(named(id));
            } else if (same->id != id) {
                one = snapshot_.key_of(same->id) + " and " + snapshot_.key_of(id) + " are one thing by an accepted identity; ";
            }
        }
        if (answer_.things.size() < 2)
            throw UsageFault(one + "there are not two things to compare", "name two things or more");
    }

    template <class Test>
    bool all_kinds(Test test) const {
        return std::all_of(answer_.things.begin(), answer_.things.end(),
                           [&](const NamedThing& thing) { return test(snapshot_.kind_of(thing.id)); });
    }
    bool fits(const Use& use) const {
        return all_kinds([&use](std::string_view kind) {
            return use.inverse ? use.relation->takes_object(kind) : use.relation->takes_subject(kind);
        });
    }
    static bool only_dates(const Relation& relation) {
        return relation.to_date && relation.to.empty() && !relation.any_to && !relation.to_text && !relation.to_number;
    }
    // Pieces and sources are what is known from, not what a thing is like.
    static bool is_evidence(const Relation& relation) {
        return !relation.any_from && std::all_of(relation.from.begin(), relation.from.end(), [](const std::string& kind) {
            return kind == "piece" || kind == "source";
        });
    }

    Use named_use(const std::string& name) const {
        const Vocabulary& vocabulary = snapshot_.vocabulary();
        const auto found = vocabulary.find_use(name);
        if (!found)
            throw UsageFault("there is no relation " + name + Vocabulary::suggestion(vocabulary.nearest_relation(name)),
                             "see `saggar show vocabulary`");
        const Use use{&vocabulary.relation(found->relation), found->inverse};
        if (use.relation->identity) throw UsageFault(name + " says that two names are one thing", "see `saggar same`");
        if (!use.inverse && only_dates(*use.relation))
            throw UsageFault(name + " has dates, and dates are compared as runs", "compare two things with --time");
        if (!fits(use)) {
            for (const NamedThing& thing : answer_.things) {
                const auto kind = snapshot_.kind_of(thing.id);
                if (use.inverse ? use.relation->takes_object(kind) : use.relation->takes_subject(kind)) continue;
                throw UsageFault(snapshot_.key_of(thing.id) + " cannot have " + name + ", which is for " +
                                     (use.inverse ? use.relation->objects_in_words() : use.relation->subjects_in_words()),
                                 "leave out either");
            }
        }
        return use;
    }

    std::vector<Use> uses() {
        std::vector<Use> chosen;
        if (!question_.relations.empty()) {
            for (const std::string& name : question_.relations) {
                const Use use = named_use(name);
                if (std::none_of(chosen.begin(), chosen.end(), [&use](const Use& one) { return one.name() == use.name(); }))
                    chosen.push_back(use);
            }
            return chosen;
        }
        bool any = false;
        for (const bool inverse : {false, true}) {
            for (const Relation& relation : snapshot_.vocabulary().relations()) {
                const Use use{&relation, inverse};
                if (relation.identity || (!inverse && only_dates(relation)) || (inverse && relation.inverse.empty())) continue;
                if (!fits(use)) continue;
                if (inverse && (relation.at_most_one || is_evidence(relation))) {
                    if (anything(use)) answer_.not_read.push_back(use.name());
                } else {
                    chosen.push_back(use);
                    any = true;
                }
            }
        }
        if (!any) {
            std::string kinds;
            for (const NamedThing& thing : answer_.things) kinds += (kinds.empty() ? "" : ", ") + snapshot_.key_of(thing.id);
            throw UsageFault("no relation is common to things of these kinds: " + kinds, "compare things of one kind");
        }
        return chosen;
    }

    bool anything(const Use& use) {
        const RelationId id = snapshot_.relation_id(use.relation->name);
        if (!id) return false;
        for (const NamedThing& thing : answer_.things) {
            for (const EntityId name : thing.names)
                for (const ClaimRef ref : about(name))
                    if (ref.relation == id) return true;
        }
        return false;
    }

    const std::vector<ClaimRef>& about(EntityId name) {
        const auto known = about_.find(name);
        return known != about_.end() ? known->second : about_[name] = snapshot_.claims_about(name);
    }

    // The claims of the use about one thing, under all its names.
    std::vector<ClaimWithEvidence> claims(const Use& use, const NamedThing& thing) {
        const RelationId id = snapshot_.relation_id(use.relation->name);
        std::vector<ClaimWithEvidence> found;
        if (!id) return found;
        for (const EntityId name : thing.names) {
            if (!use.inverse) {
                for (ClaimWithEvidence& one : snapshot_.claims_of(name, id)) found.push_back(std::move(one));
            }
            if (!use.inverse && !use.relation->symmetric) continue;
            for (const ClaimRef ref : about(name)) {
                if (ref.relation != id) continue;
                if (auto one = snapshot_.claim(ref)) found.push_back(*std::move(one));
            }
        }
        return found;
    }

    // Nothing where it is private, or the thing itself.
    std::optional<ObjectName> object_of(const Use& use, const NamedThing& thing, const ClaimRow& claim) {
        if (!claim.has_entity_object()) {
            if (use.inverse || claim.object_type == Value::Type::date) return std::nullopt;
            return ObjectName{claim.object_text, claim.object_unit, claim.object_type};
        }
        const auto is_name = [&thing](EntityId id) {
            return std::find(thing.names.begin(), thing.names.end(), id) != thing.names.end();
        };
        EntityId other = use.inverse ? claim.ref.subject : claim.object;
        if (!use.inverse && is_name(other)) other = claim.ref.subject;  // a symmetric claim read backwards
        if (is_name(other)) return std::nullopt;
        if (!privacy_.may_show(other)) {
            hidden_.insert(snapshot_.key_of(other));
            return std::nullopt;
        }
        const auto named_already = object_names_.find(other);
        if (named_already != object_names_.end()) return named_already->second;
        ObjectName name{snapshot_.key_of(other), "", Value::Type::entity};
        entities_[name.text] = other;
        for (const Alias& alias : walker_.other_names(other))
            if (privacy_.may_show(alias.other)) name.text = std::min(name.text, snapshot_.key_of(alias.other));
        return object_names_[other] = name;
    }

    void read(const Use& use, std::size_t& room) {
        Claims found;
        const std::size_t n = answer_.things.size();
        for (std::size_t i = 0; i < n; ++i) {
            for (ClaimWithEvidence& one : claims(use, answer_.things[i])) {
                const auto name = object_of(use, answer_.things[i], one.claim);
                if (!name) continue;
                auto& at = found[*name];
                at.resize(n);
                at[i].push_back(std::move(one));
            }
        }
        if (found.empty()) {
            answer_.silent.push_back(use.name());
            return;
        }
        if (found.size() * n > room) {
            answer_.cut.push_back(use.name());
            return;
        }
        room -= found.size() * n;
        ComparedRelation relation;
        relation.name = use.name();
        relation.relation = use.relation->name;
        relation.inverse = use.inverse;
        relation.label = use.inverse ? use.relation->inverse_label : use.relation->label;
        if (relation.label.empty()) relation.label = relation.name;
        for (const auto& [name, by_thing] : found) read_object(use, name, by_thing, relation);
        if (relation.objects.empty()) return;
        std::stable_sort(relation.objects.begin(), relation.objects.end(),
                         [](const ComparedObject& a, const ComparedObject& b) { return a.label < b.label; });
        find_unspoken(found, relation);
        answer_.relations.push_back(std::move(relation));
    }

    EntityId entity_named(const std::string& key) {
        const auto known = entities_.find(key);
        return known != entities_.end() ? known->second : snapshot_.need(key);
    }

    void read_object(const Use& use, const ObjectName& name, const std::vector<std::vector<ClaimWithEvidence>>& by_thing,
                     ComparedRelation& relation) {
        ComparedObject object;
        object.value = {name.type, name.text, name.unit};
        object.label = name.unit.empty() ? name.text : name.text + " " + name.unit;
        NamedThing its;
        if (name.type == Value::Type::entity) {
            object.entity = entity_named(name.text);
            object.label = snapshot_.label_of(object.entity);
            object.flagged = is_flagged(snapshot_, object.entity);
            its = named(object.entity);
        }
        bool shown = false;
        for (std::size_t i = 0; i < answer_.things.size(); ++i) {
            const NamedThing& thing = answer_.things[i];
            Claim asked{snapshot_.key_of(thing.id), use.relation->name, object.value, "", "", false};
            if (use.inverse) std::swap(asked.subject, asked.object.text);
            object.cells.push_back(cells_.read(asked, by_thing[i], use.inverse ? its : thing));
            shown = shown || !object.cells.back().claims.empty();
            if (object.cells.back().has_hidden) hidden_.insert(asked.subject + asked.relation + asked.object.text);
        }
        if (shown) relation.objects.push_back(std::move(object));
    }

    void find_unspoken(const Claims& spoken, ComparedRelation& relation) {
        if (question_.relations.empty()) return;
        std::set<std::string> kinds;
        for (const ComparedObject& object : relation.objects)
            if (object.entity) kinds.insert(std::string(snapshot_.kind_of(object.entity)));
        for (const std::string& kind : kinds) {
            for (const std::string& key : snapshot_.keys_with_prefix(kind + ":", most_unspoken * 2)) {
                const auto id = snapshot_.find(key);
                if (!id || spoken.count({key, "", Value::Type::entity}) || !privacy_.may_show(*id)) continue;
                const bool compared = std::any_of(answer_.things.begin(), answer_.things.end(),
                                                  [id](const NamedThing& thing) { return thing.id == *id; });
                if (compared || !walker_.other_names(*id).empty() || !snapshot_.entity(*id)) continue;
                if (relation.unspoken.size() == most_unspoken) {
                    relation.unspoken_more = true;
                    return;
                }
                relation.unspoken.push_back(*id);
            }
        }
    }

    void find_concepts() {
        std::vector<std::vector<std::size_t>> rows(answer_.things.size());
        for (std::size_t r = 0; r < answer_.relations.size(); ++r) {
            const auto& objects = answer_.relations[r].objects;
            for (std::size_t o = 0; o < objects.size(); ++o) {
                if (objects[o].count(Standing::has) == 0) continue;
                for (std::size_t i = 0; i < rows.size(); ++i)
                    if (objects[o].cells[i].standing == Standing::has) rows[i].push_back(answer_.features.size());
                answer_.features.push_back({r, o});
            }
        }
        answer_.concepts = formal_concepts(rows, answer_.features.size(), question_.most_concepts);
    }

    const Snapshot& snapshot_;
    const CompareQuestion& question_;
    Privacy privacy_;
    DateWalker walker_;
    CellReader cells_;
    std::set<std::string> hidden_;
    std::map<EntityId, std::vector<ClaimRef>> about_;
    std::map<EntityId, ObjectName> object_names_;
    std::map<std::string, EntityId> entities_;  // by key
    CompareAnswer answer_;
};

}  // namespace

std::size_t ComparedObject::count(Standing standing) const {
    return static_cast<std::size_t>(
        std::count_if(cells.begin(), cells.end(), [standing](const Cell& cell) { return cell.standing == standing; }));
}

std::size_t ComparedObject::counting() const { return count(Standing::has) + count(Standing::limited); }

CompareAnswer compare(const Snapshot& snapshot, Weigher& weigher, const CompareQuestion& question) {
    if (question.supported && !(*question.supported >= .5 && *question.supported <= 1))
        throw UsageFault("what counts as supported is .5 or more, so that nothing is both had and never had", "give .5 to 1");
    return Comparison(snapshot, weigher, question).run();
}

}  // namespace saggar
