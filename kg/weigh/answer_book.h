// Answers kept over snapshots, each until something it read has changed.
//
// An answer is kept under the digest of its case (case_digest.h) with the profile and the way it was asked. Nothing is ever
// struck out by a write: the next question reads its case anew, which is a few look-ups, and finds the kept answer only if
// everything it read is the same, bit for bit. What this saves is the working out: lineage, decision diagrams, sampling,
// grounds. So an answer from the book is the answer a fresh weigher gives, and a claim that a write did not touch is not
// worked out again.
//
// It is for whoever asks for long: a page that stays open, two states compared. A single command weighs one claim in about a
// millisecond, less than it takes to open the graph, so nothing is kept on disk. Any thread may use a book. Bounded: the
// answers not asked for the longest are let go.
//
// Cost: a found answer costs the reading of its case (a quarter of a millisecond for 40 claims with 75 readings). A claim with
// hundreds of readings past the node budget costs up to some 0.2 s to work out anew, most of it in diagrams given up.
#pragma once

#include <cstddef>
#include <memory>
#include <mutex>
#include <unordered_map>
#include <variant>

#include "kg/model/content_id.h"
#include "kg/weigh/weight.h"

namespace saggar {

class AnswerBook {
public:
    using Answer = std::variant<Masses, Weight, JointWeight>;

    // Keeps at least `most` / 2 answers and at most `most`.
    explicit AnswerBook(std::size_t most = 8192) : half_(most / 2 + 1) {}

    // Null where nothing is kept under this id.
    std::shared_ptr<const Answer> find(const ContentId& asked);
    void keep(const ContentId& asked, Answer answer);

    // How many answers were worked out and kept, and how many were found, since the book was made.
    std::size_t worked_out() const;
    std::size_t recalled() const;

private:
    using Answers = std::unordered_map<ContentId, std::shared_ptr<const Answer>>;
    void put(const ContentId& asked, std::shared_ptr<const Answer> answer);

    mutable std::mutex mutex_;
    std::size_t half_;
    Answers recent_,
        earlier_;  // what is asked for again moves to `recent_`; a full `recent_` takes the place of `earlier_`
    std::size_t worked_out_ = 0, recalled_ = 0;
};

}  // namespace saggar
