#include "kg/weigh/case_sources.h"

#include <algorithm>

#include "kg/store/snapshot.h"
#include "kg/weigh/profile.h"

namespace saggar {

const SourceTerms& SourceBook::terms(EntityId source) {
    const auto known = terms_.find(source);
    if (known != terms_.end()) return known->second;
    const auto record = snapshot_.source(source);
    SourceTerms made = record ? terms_of(*record, source, profile_)
                              : terms_of_unknown_source(snapshot_.key_of(source), source, profile_);
    return terms_.emplace(source, std::move(made)).first->second;
}

CaseIndex SourceBook::place(Case& question, EntityId source) {
    const std::string& key = snapshot_.key_of(source);
    const auto known = question.source_of.find(key);
    if (known != question.source_of.end()) return known->second;
    const auto first = static_cast<CaseIndex>(question.sources.size());
    std::vector<EntityId> wanted{source};
    for (std::size_t i = 0; i < wanted.size(); ++i) {  // grows as copies are found
        const SourceTerms& its = terms(wanted[i]);
        if (!question.source_of.emplace(its.key, static_cast<CaseIndex>(question.sources.size())).second) continue;
        question.sources.push_back(its);
        for (const CopyTerms& copy : its.copies) {
            if (const auto root = snapshot_.find(copy.of)) wanted.push_back(*root);
        }
    }
    return first;
}

const std::map<std::string, SourceBook::Family>& SourceBook::families() {
    if (families_known_) return families_;
    snapshot_.each_source([&](EntityId id, const Source& source) {
        if (source.family.empty()) return;
        const SourceTerms its = terms_of(source, id, profile_);
        if (its.family.empty()) return;
        Family& family = families_[its.family];
        family.members.emplace_back(id, its.reliability);
        if (its.family_unknown) {
            if (family.unknown) family.dependence = std::max(family.dependence, its.family_dependence);
        } else {
            family.dependence = family.unknown ? its.family_dependence : std::max(family.dependence, its.family_dependence);
            family.unknown = false;
        }
    });
    families_known_ = true;
    return families_;
}

void SourceBook::add_families(Case& question) {
    std::map<std::string, CaseIndex> place;
    question.family_of.assign(question.sources.size(), Case::no_family);
    for (CaseIndex s = 0; s < question.sources.size(); ++s) {
        const std::string& name = question.sources[s].family;
        if (name.empty()) continue;
        const auto [it, is_new] = place.emplace(name, static_cast<CaseIndex>(question.families.size()));
        if (is_new) {
            const Family& known = families().at(name);
            question.families.push_back({name, known.dependence, known.unknown, 0, {}});
        }
        question.families[it->second].sources.push_back(s);
        question.family_of[s] = it->second;
    }
    for (CaseFamily& family : question.families) {
        for (const auto& member : families().at(family.name).members) {
            const bool in_case = std::any_of(family.sources.begin(), family.sources.end(),
                                             [&](CaseIndex s) { return question.sources[s].id == member.first; });
            if (!in_case) family.most_reliable = std::max(family.most_reliable, member.second);
        }
    }
}

namespace {

// Whether `to` can be reached from `from` along the copy links kept so far.
bool copies_lead(const std::map<std::string, std::vector<std::string>>& kept, const std::string& from, const std::string& to) {
    std::vector<std::string> at{from};
    std::map<std::string, bool> seen;
    while (!at.empty()) {
        const std::string here = at.back();
        at.pop_back();
        if (here == to) return true;
        if (seen[here]) continue;
        seen[here] = true;
        const auto next = kept.find(here);
        if (next != kept.end()) at.insert(at.end(), next->second.begin(), next->second.end());
    }
    return false;
}

}  // namespace

void cut_copying_circles(Case& question) {
    std::map<std::string, std::vector<std::string>> kept;
    for (const auto& [key, index] : question.source_of) {
        auto& copies = question.sources[index].copies;
        const std::string from = key;
        copies.erase(std::remove_if(copies.begin(), copies.end(),
                                    [&](const CopyTerms& copy) {
                                        if (copies_lead(kept, copy.of, from)) return true;
                                        kept[from].push_back(copy.of);
                                        return false;
                                    }),
                     copies.end());
    }
}

}  // namespace saggar
