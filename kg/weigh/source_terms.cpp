#include "kg/weigh/source_terms.h"

#include <algorithm>

#include "kg/weigh/profile.h"

namespace saggar {

namespace {

// The grade that bounds a source: its own where it names one, else that of its type.
const Grade& grade_of_source(const Source& source, const Profile& profile) {
    if (const Grade* const own = profile.find_grade(source.grade)) return *own;
    const SourceType* const type = profile.find_type(source.type);
    const Grade* const usual = type ? profile.find_grade(type->grade) : nullptr;
    return usual ? *usual : *profile.find_grade(profile.unstated_type);
}

void set_reliability(SourceTerms& terms, const Source& source, const Profile& profile) {
    const Grade& grade = grade_of_source(source, profile);
    terms.cap = grade.cap;
    std::optional<double> reliability = source.reliability;
    if (!reliability) reliability = read_chance(source.grade);  // a grade may be given as a number
    if (!reliability) reliability = grade.reliability;
    terms.no_basis = !reliability || *reliability <= 0;
    terms.reliability = terms.no_basis ? 0 : std::min(*reliability, terms.cap);
}

// The kind of a family: as stated, or the word before a colon in its name, or the profile's.
const FamilyKind& kind_of_family(const Source& source, const Profile& profile) {
    if (const FamilyKind* const stated = profile.find_family(source.family_kind)) return *stated;
    const auto colon = source.family.find(':');
    if (colon != std::string::npos) {
        if (const FamilyKind* const named = profile.find_family(std::string_view(source.family).substr(0, colon))) return *named;
    }
    return *profile.find_family(profile.unstated_family);
}

}  // namespace

SourceTerms terms_of(const Source& source, EntityId id, const Profile& profile) {
    SourceTerms terms;
    terms.id = id;
    terms.key = source.key;
    terms.author = source.author;
    set_reliability(terms, source, profile);
    terms.within = source.dependence.value_or(profile.within_source);
    terms.within_stated = source.dependence.has_value();
    terms.about_years = source.tolerance_years.value_or(profile.about_years);
    if (!source.family.empty()) {
        const FamilyKind& kind = kind_of_family(source, profile);
        if (kind.dependence > 0 || kind.unknown) {
            terms.family = source.family;
            terms.family_kind = kind.name;
            terms.family_dependence = kind.dependence;
            terms.family_unknown = kind.unknown;
        }
    }
    for (const Copy& copy : source.copied_from) {
        if (copy.chance > 0 && copy.of != source.key) terms.copies.push_back({copy.of, copy.chance, copy.fidelity});
    }
    std::sort(terms.copies.begin(), terms.copies.end(), [](const CopyTerms& a, const CopyTerms& b) { return a.of < b.of; });
    return terms;
}

SourceTerms terms_of_unknown_source(const std::string& key, EntityId id, const Profile& profile) {
    Source source;
    source.key = key;
    return terms_of(source, id, profile);
}

}  // namespace saggar
