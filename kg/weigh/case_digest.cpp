#include "kg/weigh/case_digest.h"

#include <cstring>
#include <type_traits>

namespace saggar {

namespace {

// The fields of a case one after the other; every list and text has its length before it.
class CaseWriter {
public:
    template <class Number>
    std::enable_if_t<std::is_arithmetic_v<Number>> put(Number number) {
        char bytes[sizeof number];
        std::memcpy(bytes, &number, sizeof number);
        text_.append(bytes, sizeof number);
    }
    void put(const std::string& text) {
        put(text.size());
        text_ += text;
    }
    void put(const ContentId& id) { text_.append(reinterpret_cast<const char*>(id.bytes.data()), id.bytes.size()); }
    void put(const ClaimRef& ref) {
        put(ref.subject.value);
        put(ref.relation.value);
        put(ref.number);
    }
    template <class T>
    void put(const std::vector<T>& list) {
        put(list.size());
        for (const T& one : list) put(one);
    }
    void put(const CaseReading& reading) {
        put(reading.id);
        put(reading.is_list);
        put(reading.claim);
        put(reading.source);
        put(reading.against);
        put(reading.share);
        put(reading.no_basis);
        put(reading.takes_back);
        put(reading.taken_back_by);
    }
    void put(const CaseArgument& argument) {
        put(argument.id);
        put(argument.against);
        put(argument.strength);
        put(argument.premises);
    }
    void put(const CaseRival& rival) {
        put(rival.claim);
        put(rival.identities);
    }
    void put(const CaseClaim& claim) {
        put(claim.ref);
        put(claim.id);
        put(claim.bystander);
        put(claim.readings);
        put(claim.arguments);
        put(claim.rivals);
    }
    void put(const CaseFamily& family) {
        put(family.name);
        put(family.dependence);
        put(family.unknown);
        put(family.most_reliable);
        put(family.sources);
    }
    void put(const CopyTerms& copy) {
        put(copy.of);
        put(copy.chance);
        put(copy.fidelity);
    }
    void put(const SourceTerms& source) {
        put(source.id.value);
        put(source.key);
        put(source.author);
        put(source.no_basis);
        put(source.reliability);
        put(source.cap);
        put(source.within);
        put(source.within_stated);
        put(source.family);
        put(source.family_dependence);
        put(source.family_unknown);
        put(source.family_kind);
        put(source.about_years);
        put(source.copies);
    }
    const std::string& text() const { return text_; }

private:
    std::string text_;
};

}  // namespace

ContentId digest_of(const Case& question) {
    CaseWriter writer;
    writer.put(question.claims);
    writer.put(question.readings);
    writer.put(question.sources);
    writer.put(question.families);
    writer.put(question.family_of);
    return ContentHash("case").field(writer.text()).finish();  // source_of follows from the sources
}

}  // namespace saggar
