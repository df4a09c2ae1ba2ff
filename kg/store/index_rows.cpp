#include "kg/store/index_rows.h"

#include "kg/model/key.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

constexpr char queued_words = 'W';  // in a queue: a text whose words are wanted; no family has this letter

// Keys hold 8-byte numbers of which the low bytes tell (keys.h); entity and claim numbers are expected below 2^40. Claims are
// numbered as they arrive, so behind subject and relation the order is there already.
KeyShape index_shape(char family) {
    switch (family) {
        case 'o':  // thing relation side, subject | number or number | object
            return {{4, 5, 6, 7, 8, 11, 12, 13, 17, 18, 19, 20, 21, 25, 26, 27, 28, 29}, 13};
        case 'y':  // source subject relation | number ordinal
            return {{4, 5, 6, 7, 8, 12, 13, 14, 15, 16, 19, 20, 24, 25, 26, 27, 28, 30, 31, 32}, 12};
        case 'x':  // a hash: after four bytes hardly two are alike
            return {{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}, 4};
        default:
            return {};
    }
}

std::string place_in_words(ClaimRef claim, FoundWord::Field field) {
    std::string out;
    keys::append_word_place(out, claim, field);
    return out;
}

}  // namespace

std::size_t budget_of(char family, std::size_t whole) {
    switch (family) {
        case 'c':  // the largest by far
            return whole * 3 / 8;
        case 'x':
            return whole / 4;
        case 't':
            return whole / 8;
        default:
            return whole / 16;
    }
}

IndexRows::IndexRows(std::filesystem::path folder, std::size_t memory_budget)
    : folder_(std::move(folder)), memory_budget_(memory_budget) {}

void IndexRows::emit(std::string_view key, std::string_view value) {
    auto& family = families_[key[0]];
    if (!family) {
        family = std::make_unique<SortedRuns>(folder_, std::string("index-") + key[0], budget_of(key[0], memory_budget_),
                                              index_shape(key[0]));
    }
    family->add(key, value);
}

void IndexRows::derive(const PairChunk& rows) {
    rows.each([this](std::string_view key, std::string_view row) {
        Bytes bytes(key);
        bytes.byte();
        const ClaimRef claim = keys::read_claim(bytes);
        if (bytes.at_end()) {
            derive_claim(claim, row);
        } else {
            derive_evidence(claim, bytes.big32(), row);
        }
    });
}

void IndexRows::derive_claim(ClaimRef claim, std::string_view row) {
    const ClaimView view = view_claim(row);
    keys::make_content(key_, view.id);
    emit(key_, encode(RecordPlace{RecordPlace::Type::claim, claim, 0}));
    if (view.object_type == Value::Type::entity) {
        keys::make_link_from(key_, claim, view.object);
        emit(key_, view.spans);
        keys::make_link_to(key_, view.object, claim);
        emit(key_, view.spans);
    } else if (view.object_type == Value::Type::text) {
        words_of(view.object_text, place_in_words(claim, FoundWord::text));
    }
}

void IndexRows::derive_evidence(ClaimRef claim, std::uint32_t ordinal, std::string_view row) {
    const EvidenceView view = view_evidence(row);
    keys::make_content(key_, view.id);
    emit(key_, encode(RecordPlace{RecordPlace::Type::evidence, claim, ordinal}));
    keys::make_by_source(key_, view.source, claim, ordinal);
    emit(key_, {});
    if (!view.corrects.empty()) emit(keys::correction(view.corrects, claim, ordinal), {});
    if (!view.quote.empty()) words_of(view.quote, place_in_words(claim, FoundWord::quote));
    if (!view.remark.empty()) words_of(view.remark, place_in_words(claim, FoundWord::remark));
}

void IndexRows::words_of(std::string_view text, std::string_view where) {
    class Emitter : public WordVisitor {
    public:
        Emitter(IndexRows& rows, std::string_view place) : rows_(rows), place_(place) {}
        void word(std::string_view folded, std::size_t) override {
            rows_.key_.assign(1, 't').append(folded).append(place_);
            rows_.emit(rows_.key_, {});
        }

    private:
        IndexRows& rows_;
        std::string_view place_;
    };
    Emitter emitter(*this, where);
    each_word(text, emitter);
}

void IndexRows::take(const PairChunk& queued) {
    queued.each([this](std::string_view key, std::string_view value) {
        if (key[0] == queued_words) {
            words_of(value, key.substr(1));
        } else {
            emit(key, value);
        }
    });
}

void IndexQueue::words(std::string_view text, EntityId thing, FoundWord::Field field) {
    if (text.empty()) return;
    std::string key(1, queued_words);
    keys::append_word_place(key, thing, field);
    queued_->add(key, text);
}

void IndexQueue::words(std::string_view text, ClaimRef claim, FoundWord::Field field) {
    if (!text.empty()) queued_->add(queued_words + place_in_words(claim, field), text);
}

std::unique_ptr<PairChunk> IndexQueue::release() {
    auto out = std::move(queued_);
    queued_ = std::make_unique<PairChunk>();
    return out;
}

}  // namespace saggar
