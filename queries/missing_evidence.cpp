#include "queries/missing_evidence.h"

#include <algorithm>
#include <set>

#include "kg/weigh/profile.h"
#include "kg/weigh/source_terms.h"

namespace saggar {
namespace {

double support_of(const Masses& masses) { return masses.support().value_or(0); }

// Whether the supports are decided: one high and the others low, or all low.
bool decided(const std::vector<double>& supports) {
    return std::all_of(supports.begin(), supports.end(),
                       [](double support) { return support >= settled_at || support <= 1 - settled_at; });
}

// The supports of all views once a reading for or against the first has come in.
std::vector<double> after(const std::vector<Weight>& views, double reliability, Stance stance, bool rivals) {
    std::vector<double> supports;
    for (std::size_t i = 0; i < views.size(); ++i) {
        const Masses& masses = views[i].masses;
        if (i == 0) {
            supports.push_back(support_of(with_reading(masses, reliability, stance)));
        } else if (rivals && stance == Stance::in_favour) {
            supports.push_back(support_of(with_reading(masses, reliability, Stance::against)));
        } else {
            supports.push_back(support_of(masses));
        }
    }
    return supports;
}

// Grades that some type of source has: letters and the like are only ways to write the same.
std::vector<const Grade*> grades_to_look_for(const Profile& profile) {
    std::set<std::string> used;
    for (const SourceType& type : profile.types) used.insert(type.grade);
    std::vector<const Grade*> grades;
    for (const Grade& grade : profile.grades)
        if (grade.reliability && used.count(grade.name)) grades.push_back(&grade);
    std::stable_sort(grades.begin(), grades.end(),
                     [](const Grade* a, const Grade* b) { return *a->reliability < *b->reliability; });
    return grades;
}

std::string grade_of(const Snapshot& snapshot, const Profile& profile, EntityId id) {
    const auto source = snapshot.source(id);
    if (!source) return profile.unstated_type;
    if (!source->grade.empty()) return source->grade;
    const SourceType* type = profile.find_type(source->type);
    return type ? type->grade : profile.unstated_type;
}

std::set<std::string> grades_read(const Snapshot& snapshot, const Profile& profile, const std::vector<Weight>& views) {
    std::set<std::string> grades;
    for (const Weight& view : views)
        for (const ReadingShown& reading : view.readings)
            if (reading.role != ReadingShown::Role::no_basis) grades.insert(grade_of(snapshot, profile, reading.source));
    return grades;
}

MissingEvidence new_reading(const Grade& grade, const std::vector<Weight>& views, bool rivals, bool first) {
    MissingEvidence piece;
    piece.claim = views.front().claim;
    piece.grade = grade.name;
    piece.grade_label = grade.label;
    piece.reliability = *grade.reliability;
    piece.first_of_its_kind = first;
    const auto in_favour = after(views, piece.reliability, Stance::in_favour, rivals);
    const auto against = after(views, piece.reliability, Stance::against, rivals);
    piece.if_for = in_favour.front();
    piece.if_against = against.front();
    piece.settles = decided(in_favour) && decided(against);
    return piece;
}

std::optional<MissingEvidence> second_look(const Weight& view) {
    const Influence* most = nullptr;
    for (const Influence& source : view.influence) {
        const auto moves = [&](const Influence& one) { return std::abs(one.without - view.support); };
        if (!most || moves(source) > moves(*most)) most = &source;
    }
    if (!most) return std::nullopt;
    MissingEvidence piece;
    piece.kind = MissingEvidence::Kind::second_look;
    piece.claim = view.claim;
    piece.source = most->source;
    piece.if_misread = most->without;
    piece.settles = most->without >= settled_at || most->without <= 1 - settled_at;
    return piece;
}

}  // namespace

Masses with_reading(const Masses& masses, double r, Stance stance) {
    if (stance == Stance::against) return with_reading(masses.of_denial(), r, Stance::in_favour).of_denial();
    return {masses.for_only + r * masses.neither, (1 - r) * masses.against_only, masses.both + r * masses.against_only,
            (1 - r) * masses.neither};
}

std::optional<MissingEvidence> missing_evidence(const Snapshot& snapshot, const Profile& profile,
                                                const std::vector<Weight>& views, bool rivals) {
    if (views.empty()) return std::nullopt;
    const std::set<std::string> read = grades_read(snapshot, profile, views);
    std::optional<MissingEvidence> settling, strongest;
    for (const Grade* grade : grades_to_look_for(profile)) {
        MissingEvidence piece = new_reading(*grade, views, rivals, read.count(grade->name) == 0);
        strongest = piece;
        if (!piece.settles) continue;
        if (!settling || (piece.first_of_its_kind && !settling->first_of_its_kind)) settling = piece;
    }
    if (settling) return settling;
    auto look = second_look(views.front());
    if (look && look->settles) return look;
    return strongest ? strongest : look;
}

}  // namespace saggar
