#include "importers/merge/word_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "kg/model/fault.h"
#include "kg/model/json_document.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

constexpr const char* parts[] = {"grades", "hedges", "kinds", "relations", "types"};

std::string yes_no(bool there, const char* words, const char* other) {
    return fmt::format("{} there, {} here", there ? words : other, there ? other : words);
}

// How the two relations of one name differ; empty: in nothing that bears on records or weights.
std::string difference(const Relation& theirs, const Relation& ours) {
    std::string text;
    const auto add = [&](const std::string& part) { text += (text.empty() ? "" : "; ") + part; };
    if (theirs.at_most_one != ours.at_most_one) add(yes_no(theirs.at_most_one, "at most one", "several"));
    if (theirs.symmetric != ours.symmetric) add(yes_no(theirs.symmetric, "reads the same both ways", "one way only"));
    if (theirs.identity != ours.identity) add(yes_no(theirs.identity, "says that two are one", "does not"));
    if (theirs.subjects_in_words() != ours.subjects_in_words())
        add(fmt::format("said of {} there, of {} here", theirs.subjects_in_words(), ours.subjects_in_words()));
    if (theirs.objects_in_words() != ours.objects_in_words())
        add(fmt::format("takes {} there, {} here", theirs.objects_in_words(), ours.objects_in_words()));
    return text;
}

bool takes_values(const Relation& relation) { return relation.to_text || relation.to_number || relation.to_date; }

}  // namespace

WordChoice WordChoice::read(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) throw UsageFault("cannot read " + path.string(), "see that the file is there");
    std::ostringstream text;
    text << in.rdbuf();
    return parse(text.str(), path.string());
}

WordChoice WordChoice::parse(const std::string& text, const std::string& name) {
    Problems problems;
    const auto document = JsonDocument::read(text, name, problems);
    if (!document) throw UsageFault(to_text(problems.list().front()), "mend the file");
    WordChoice choice;
    const auto refuse = [&](const std::string& what) {
        throw UsageFault(name + ": " + what,
                         "write {\"relations\": {\"their-word\": \"our-word\"}}; parts are grades, hedges, kinds, relations, types");
    };
    if (!document->root().is_object()) refuse("the document is no object");
    for (const auto& [part, words] : document->root().items()) {
        if (std::find(std::begin(parts), std::end(parts), part) == std::end(parts)) refuse("unknown part \"" + part + "\"");
        if (!words.is_object()) refuse("\"" + part + "\" is no object");
        for (const auto& [theirs, ours] : words.items()) {
            if (!ours.is_string()) refuse("\"" + theirs + "\" stands for no word");
            choice.words[part][theirs] = ours.get<std::string>();
        }
    }
    return choice;
}

WordMap::WordMap(const Vocabulary& ours, const Vocabulary* theirs, const Profile& our_profile, const Profile* their_profile,
                 const WordChoice& choice)
    : ours_(ours) {
    std::map<std::string, std::string> kinds, relations;
    choose(choice, "kinds", kinds);
    choose(choice, "relations", relations);
    choose(choice, "grades", grades_);
    choose(choice, "types", types_);
    choose(choice, "hedges", hedges_);
    for (const auto& [word, mine] : kinds)
        if (!ours.find_kind(mine)) throw UsageFault("there is no kind \"" + mine + "\" here to stand for \"" + word + "\"", "see `saggar show vocabulary`");
    for (const auto& [word, mine] : relations)
        if (!ours.find_use(mine)) throw UsageFault("there is no relation \"" + mine + "\" here to stand for \"" + word + "\"", "see `saggar show vocabulary`");
    if (theirs) {
        compare_kinds(*theirs, kinds);
        compare_relations(*theirs, relations);
    } else {
        kinds_ = kinds;
        for (const auto& [word, mine] : relations) {
            const RelationUse use = *ours.find_use(mine);
            relations_[word] = {ours.relation(use.relation).name, use.inverse};
        }
    }
    if (their_profile) compare_profiles(our_profile, *their_profile);
    changes_ids_ = !kinds_.empty() || !relations_.empty() || !hedges_.empty();
}

void WordMap::choose(const WordChoice& choice, const std::string& part, std::map<std::string, std::string>& into) {
    const auto found = choice.words.find(part);
    if (found != choice.words.end()) into = found->second;
}

void WordMap::compare_kinds(const Vocabulary& theirs, const std::map<std::string, std::string>& chosen) {
    for (const Kind& kind : theirs.kinds()) {
        std::string mine;
        if (const auto say = chosen.find(kind.name); say != chosen.end()) {
            mine = say->second;
        } else if (ours_.find_kind(kind.name)) {
            continue;
        } else {
            for (const Kind& one : ours_.kinds())
                if (fold(one.label) == fold(kind.label) && !theirs.find_kind(one.name)) mine = one.name;
        }
        if (mine.empty()) {
            unknown_kinds_.push_back(kind.name);
            differences_.push_back({"kind", kind.name, "is not known here", false});
        } else if (mine != kind.name) {
            kinds_[kind.name] = mine;
            differences_.push_back({"kind", kind.name, "becomes " + mine, true});
        }
    }
}

// The one relation of ours that stands for the same as theirs.
std::optional<WordMap::RelationWord> WordMap::relation_like(const Relation& theirs, const Vocabulary& all_theirs) const {
    if (const auto use = ours_.find_use(theirs.name); use && !takes_values(theirs)) return RelationWord{ours_.relation(use->relation).name, use->inverse};
    if (theirs.property.empty()) return std::nullopt;
    const auto same = [&](const Relation& one) { return one.property == theirs.property; };
    const auto& mine = ours_.relations();
    const auto& others = all_theirs.relations();
    if (std::count_if(others.begin(), others.end(), same) != 1 || std::count_if(mine.begin(), mine.end(), same) != 1) return std::nullopt;
    return RelationWord{std::find_if(mine.begin(), mine.end(), same)->name, false};
}

void WordMap::compare_relations(const Vocabulary& theirs, const std::map<std::string, std::string>& chosen) {
    for (const Relation& relation : theirs.relations()) {
        std::optional<RelationWord> mine;
        if (const auto say = chosen.find(relation.name); say != chosen.end()) {
            const RelationUse use = *ours_.find_use(say->second);
            mine = RelationWord{ours_.relation(use.relation).name, use.inverse};
        } else if (const Relation* same = ours_.find_relation(relation.name)) {
            const std::string text = difference(relation, *same);
            if (!text.empty()) differences_.push_back({"relation", relation.name, text, false});
            continue;
        } else {
            mine = relation_like(relation, theirs);
        }
        if (!mine) {
            unknown_relations_.push_back(relation.name);
            differences_.push_back({"relation", relation.name, "is not known here", false});
            continue;
        }
        if (mine->turned && takes_values(relation))
            throw UsageFault("the relation \"" + relation.name + "\" takes values, so it cannot be read backwards as " + mine->name,
                             "choose another word for it in the map");
        if (mine->name == relation.name && !mine->turned) continue;
        differences_.push_back({"relation", relation.name, "becomes " + mine->name + (mine->turned ? ", read backwards" : ""), true});
        relations_[relation.name] = *mine;
    }
}

void WordMap::compare_profiles(const Profile& ours, const Profile& theirs) {
    const auto number = [](const std::optional<double>& one) { return one ? fmt::format("{:g}", *one) : std::string("no basis"); };
    for (const Grade& grade : theirs.grades) {
        if (grades_.count(grade.name)) continue;
        if (const Grade* mine = ours.find_grade(grade.name)) {
            if (mine->reliability != grade.reliability || mine->cap != grade.cap)
                differences_.push_back({"grade", grade.name, fmt::format("counts {} there, {} here", number(grade.reliability), number(mine->reliability)), false});
        } else if (grade.reliability) {
            grade_numbers_[grade.name] = std::min(*grade.reliability, grade.cap);
            differences_.push_back({"grade", grade.name, fmt::format("becomes the number {:g}", std::min(*grade.reliability, grade.cap)), true});
        } else {
            differences_.push_back({"grade", grade.name, "is not known here", false});
        }
    }
    for (const SourceType& type : theirs.types) {
        if (types_.count(type.name)) continue;
        const SourceType* mine = ours.find_type(type.name);
        if (!mine) differences_.push_back({"type of source", type.name, "is not known here", false});
        else if (mine->grade != type.grade) differences_.push_back({"type of source", type.name, fmt::format("graded {} there, {} here", type.grade, mine->grade), false});
    }
    for (const Hedge& hedge : theirs.hedges) {
        if (hedges_.count(hedge.words)) continue;
        const auto mine = std::find_if(ours.hedges.begin(), ours.hedges.end(), [&](const Hedge& one) { return one.words == hedge.words; });
        if (mine == ours.hedges.end()) differences_.push_back({"hedge", hedge.words, "is not known here", false});
        else if (mine->certainty != hedge.certainty)
            differences_.push_back({"hedge", hedge.words, fmt::format("counts {:g} there, {:g} here", hedge.certainty, mine->certainty), false});
    }
    for (const FamilyKind& family : theirs.families) {
        const auto mine = std::find_if(ours.families.begin(), ours.families.end(), [&](const FamilyKind& one) { return one.name == family.name; });
        if (mine == ours.families.end()) differences_.push_back({"kind of family", family.name, "is not known here", false});
        else if (mine->dependence != family.dependence)
            differences_.push_back({"kind of family", family.name, fmt::format("counts {:g} there, {:g} here", family.dependence, mine->dependence), false});
    }
}

void WordMap::change(std::string& word, const std::map<std::string, std::string>& table) {
    const auto found = table.find(word);
    if (found != table.end()) word = found->second;
}

std::string WordMap::key(const std::string& theirs) const {
    const auto parts_of_key = split_key(theirs);
    if (!parts_of_key || kinds_.empty()) return theirs;
    const auto found = kinds_.find(std::string(parts_of_key->kind));
    return found == kinds_.end() ? theirs : found->second + ":" + std::string(parts_of_key->slug);
}

void WordMap::follow(ContentId& id) const {
    const auto found = ids_.find(id);
    if (found != ids_.end()) id = found->second;
}

void WordMap::rename(Entity& one) const { one.key = key(one.key); }

void WordMap::rename(Source& one) const {
    one.key = key(one.key);
    one.family = key(one.family);
    for (Copy& copy : one.copied_from) copy.of = key(copy.of);
    change(one.type, types_);
    change(one.grade, grades_);
    const auto number = grade_numbers_.find(one.grade);
    if (number == grade_numbers_.end()) return;
    if (!one.reliability) one.reliability = number->second;
    one.grade.clear();
}

void WordMap::rename(Claim& one) const {
    one.subject = key(one.subject);
    one.scope = key(one.scope);
    if (one.object.type == Value::Type::entity) one.object.text = key(one.object.text);
    const auto found = relations_.find(one.relation);
    if (found != relations_.end()) {
        one.relation = found->second.name;
        if (found->second.turned && one.object.type == Value::Type::entity) std::swap(one.subject, one.object.text);
    }
    const Relation* relation = ours_.find_relation(one.relation);
    if (relation && relation->symmetric && one.object.type == Value::Type::entity && one.object.text < one.subject)
        std::swap(one.subject, one.object.text);
}

void WordMap::rename(Evidence& one) const {
    follow(one.claim);
    follow(one.corrects);
    one.source = key(one.source);
    if (const auto found = hedges_.find(fold(one.certainty)); found != hedges_.end()) one.certainty = found->second;
}

void WordMap::rename(Listing& one) const {
    one.source = key(one.source);
    one.subject = key(one.subject);
    one.scope = key(one.scope);
    // A list of a relation that is read backwards here would list subjects; the gate refuses it.
    const auto found = relations_.find(one.relation);
    if (found != relations_.end() && !found->second.turned) one.relation = found->second.name;
}

void WordMap::rename(Argument& one) const {
    follow(one.conclusion);
    for (ContentId& premise : one.premises) follow(premise);
    std::sort(one.premises.begin(), one.premises.end());
}

void WordMap::rename(Ruling& one) const {
    follow(one.claim);
    for (ContentId& seen : one.looked_at) follow(seen);
    std::sort(one.looked_at.begin(), one.looked_at.end());
}

void WordMap::rename(Withdrawal& one) const { follow(one.of); }

Record WordMap::to_ours(Record record) {
    std::visit(
        [this](auto& one) {
            using One = std::decay_t<decltype(one)>;
            if constexpr (std::is_same_v<One, Entity> || std::is_same_v<One, Source> || std::is_same_v<One, Withdrawal>) {
                rename(one);
            } else {
                if (!changes_ids_) return;
                const ContentId before = id_of(one);
                rename(one);
                const ContentId after = id_of(one);
                if (after != before) ids_[before] = after;
            }
        },
        record);
    return record;
}

}  // namespace saggar
