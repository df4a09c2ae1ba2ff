// The gate every record passes before the graph: is it sound, and does the vocabulary allow it?
//
// Checked: keys; kinds of subjects and objects; types of values; dates (EDTF); chances within 0..1; hedge words, grades
// and types known to the profile; that evidence names a claim that is there. What is wrong becomes a problem at the
// right field's place, with the nearest known word; what is right goes on to the next sink. Cost: a few hash look-ups a
// record.
#pragma once

#include <functional>
#include <optional>
#include <set>

#include "importers/sink.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"

namespace saggar {

class CheckedSink final : public Sink {
public:
    // The largest record, counted in bytes of its texts.
    static constexpr std::size_t most_bytes = 1'000'000;

    // All arguments must outlive the sink. `claim_known` tells whether a claim is in the graph or was put before;
    // without it that is not checked.
    CheckedSink(Sink& next, const Vocabulary& vocabulary, const Profile& profile, Problems& problems,
                std::function<bool(const ContentId&)> claim_known = {});

    // From now on a vocabulary that the file brings takes the place of the one before it, as it does in the graph when a
    // whole history is replayed.
    void follow_documents() { follows_ = true; }

    void put(Record record, const Origin& origin) override;
    void begin_entry(EntryHeader entry, const Origin& origin) override;
    void document(DocumentLine document, const Origin& origin) override;
    void picture(PictureFile file, const Origin& origin) override;

    // How many records went on.
    std::uint64_t passed() const { return passed_; }

private:
    class Check;

    Sink& next_;
    const Vocabulary* vocabulary_;
    std::optional<Vocabulary> followed_;
    bool follows_ = false;
    const Profile& profile_;
    Problems& problems_;
    std::function<bool(const ContentId&)> claim_known_;
    std::set<ContentId> refused_;  // claims: what is said about them is dropped without a second problem
    std::set<std::string> nobodies_;  // keys that were warned of
    std::uint64_t passed_ = 0;
};

}  // namespace saggar
