#include "kg/weigh/readings_shown.h"

#include <algorithm>
#include <set>

namespace saggar {

std::vector<ReadingShown> shown_readings(Question& question) {
    const Case& its = question.its_case();
    ReadingEvents& events = question.lineage().readings();
    std::vector<ReadingShown> shown;
    for (const CaseIndex index : its.claims[0].readings) {
        const CaseReading& reading = its.readings[index];
        const SourceTerms& source = its.sources[reading.source];
        ReadingShown one;
        one.record = reading.id;
        one.is_listing = reading.is_list;
        one.source = source.id;
        one.stance = reading.against ? Stance::against : Stance::in_favour;
        one.reliability = reading.no_basis ? 0 : source.reliability * reading.share;
        const CaseIndex root = events.root_source(index);
        if (reading.no_basis) {
            one.role = ReadingShown::Role::no_basis;
        } else if (!reading.taken_back_by.empty()) {
            one.role = ReadingShown::Role::corrected;
        } else if (root != reading.source) {
            one.role = ReadingShown::Role::copy;
            one.root = its.sources[root].id;
        } else if (!source.copies.empty() && !reading.takes_back) {
            one.role = ReadingShown::Role::suspected;
            const auto from = its.source_of.find(source.copies.front().of);
            if (from != its.source_of.end()) one.root = its.sources[from->second].id;
        }
        shown.push_back(one);
    }
    return shown;
}

bool dependence_unknown(const Case& question) {
    for (const CaseFamily& family : question.families) {
        if (!family.unknown) continue;
        std::set<CaseIndex> read;
        for (const CaseReading& reading : question.readings) {
            const bool member =
                std::find(family.sources.begin(), family.sources.end(), reading.source) != family.sources.end();
            if (member && !reading.no_basis) read.insert(reading.source);
        }
        if (read.size() > 1) return true;
    }
    return false;
}

}  // namespace saggar
