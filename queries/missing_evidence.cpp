#include "queries/missing_evidence.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "kg/weigh/profile.h"

namespace saggar {
namespace {

constexpr double least_relief = .01;       // of the contradiction, to be worth a second look
constexpr std::size_t most_sources = 24;  // tried

double support_of(const Masses& masses) { return masses.support().value_or(0); }

// Whether the supports are decided: one high and the others low, or all low.
bool decided(const std::vector<double>& supports) {
    return std::all_of(supports.begin(), supports.end(),
                       [](double support) { return support >= settled_at || support <= 1 - settled_at; });
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

class PieceSearch {
public:
    PieceSearch(const Snapshot& snapshot, Weigher& weigher, const std::vector<Weight>& views, const Excluding& excluding)
        : snapshot_(snapshot), weigher_(weigher), views_(views), excluding_(excluding) {}

    std::optional<MissingEvidence> find() {
        std::vector<double> supports;
        double both = 0;
        for (const Weight& view : views_) {
            supports.push_back(view.support);
            both = std::max(both, view.masses.both);
        }
        if (!decided(supports)) return what_decides();
        if (both < weigher_.profile().contested_from) return std::nullopt;
        return what_clears(both);
    }

private:
    // The supports of all views once a reading that speaks of the first has come in.
    std::vector<double> after(double reliability, Stance stance) const {
        std::vector<double> supports;
        for (const Weight& view : views_) {
            Masses masses = view.masses;
            if (&view == &views_.front()) {
                masses = with_reading(masses, reliability, stance);
            } else if (stance == Stance::in_favour && excluding_.count({views_.front().claim, view.claim})) {
                masses = with_reading(masses, reliability, Stance::against);
            }
            supports.push_back(support_of(masses));
        }
        return supports;
    }

    MissingEvidence new_reading(const Grade& grade, bool first) const {
        MissingEvidence missing;
        missing.claim = views_.front().claim;
        missing.grade = grade.name;
        missing.grade_label = grade.label;
        missing.reliability = *grade.reliability;
        missing.first_of_its_kind = first;
        const auto in_favour = after(missing.reliability, Stance::in_favour), against = after(missing.reliability, Stance::against);
        missing.if_for = in_favour.front();
        missing.if_against = against.front();
        missing.settles = decided(in_favour) && decided(against);
        return missing;
    }

    std::optional<MissingEvidence> what_decides() {
        const Profile& profile = weigher_.profile();
        const std::set<std::string> read = grades_read(snapshot_, profile, views_);
        std::optional<MissingEvidence> settling, strongest;
        for (const Grade* grade : grades_to_look_for(profile)) {
            const MissingEvidence missing = new_reading(*grade, read.count(grade->name) == 0);
            strongest = missing;
            if (missing.settles && (!settling || (missing.first_of_its_kind && !settling->first_of_its_kind))) settling = missing;
        }
        if (settling) return settling;
        std::optional<MissingEvidence> best;
        for (const EntityId source : sources()) {
            const MissingEvidence look = second_look(source);
            if (look.settles && (!best || look.if_misread > best->if_misread)) best = look;
        }
        return best ? best : strongest;
    }

    std::optional<MissingEvidence> what_clears(double both) {
        std::optional<MissingEvidence> best;
        for (const EntityId source : sources()) {
            const MissingEvidence look = second_look(source);
            const bool same_side = (look.if_misread >= settled_at) == (views_.front().support >= settled_at);
            if (!look.settles || !same_side || look.both_if_misread > both - least_relief) continue;
            if (!best || look.both_if_misread < best->both_if_misread) best = look;
        }
        if (best) best->clears = true;
        return best;
    }

    // Sources behind the views, those that move most first; by key among equals.
    std::vector<EntityId> sources() const {
        std::map<std::string, std::pair<double, EntityId>> found;
        for (const Weight& view : views_) {
            for (const Influence& one : view.influence) {
                auto& known = found[snapshot_.key_of(one.source)];
                known = {std::max(known.first, std::abs(one.without - view.support) + std::abs(one.slope)), one.source};
            }
        }
        std::vector<std::pair<double, EntityId>> ordered;
        for (const auto& one : found) ordered.push_back(one.second);
        std::stable_sort(ordered.begin(), ordered.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
        std::vector<EntityId> sources;
        for (const auto& one : ordered)
            if (sources.size() < most_sources) sources.push_back(one.second);
        return sources;
    }

    MissingEvidence second_look(EntityId source) {
        MissingEvidence missing;
        missing.kind = MissingEvidence::Kind::second_look;
        missing.claim = views_.front().claim;
        missing.source = source;
        WeighOptions options;
        options.explain = false;
        options.what_if[snapshot_.key_of(source)] = 0;
        std::vector<double> supports;
        for (const Weight& view : views_) {
            const Weight without = weigher_.weigh(view.claim, options);
            supports.push_back(without.support);
            missing.both_if_misread = std::max(missing.both_if_misread, without.masses.both);
        }
        missing.if_misread = supports.front();
        missing.settles = decided(supports);
        return missing;
    }

    const Snapshot& snapshot_;
    Weigher& weigher_;
    const std::vector<Weight>& views_;
    const Excluding& excluding_;
};

}  // namespace

Masses with_reading(const Masses& masses, double r, Stance stance) {
    if (stance == Stance::against) return with_reading(masses.of_denial(), r, Stance::in_favour).of_denial();
    return {masses.for_only + r * masses.neither, (1 - r) * masses.against_only, masses.both + r * masses.against_only,
            (1 - r) * masses.neither};
}

std::optional<MissingEvidence> missing_evidence(const Snapshot& snapshot, Weigher& weigher, const std::vector<Weight>& views,
                                                const Excluding& excluding) {
    if (views.empty()) return std::nullopt;
    return PieceSearch(snapshot, weigher, views, excluding).find();
}

}  // namespace saggar
