#include "kg/weigh/behind.h"

#include <algorithm>

#include "kg/weigh/gather.h"

namespace saggar {
namespace {

template <typename Item>
void sort_once(std::vector<Item>& items) {
    std::sort(items.begin(), items.end());
    items.erase(std::unique(items.begin(), items.end()), items.end());
}

}  // namespace

Behind behind(Gatherer& gatherer, ClaimRef claim) {
    const Case its = gatherer.gather({&claim, 1});
    Behind found;
    for (const CaseClaim& one : its.claims) {
        found.claims.push_back(one.ref);
        for (const CaseArgument& argument : one.arguments)
            if (!argument.id.empty()) found.records.push_back(argument.id);
    }
    for (const CaseReading& reading : its.readings) found.records.push_back(reading.id);
    for (const SourceTerms& source : its.sources)
        if (source.id) found.sources.push_back(source.id);
    sort_once(found.claims);
    sort_once(found.records);
    sort_once(found.sources);
    return found;
}

}  // namespace saggar
