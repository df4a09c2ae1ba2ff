#include "kg/weigh/answer_book.h"

#include <utility>

namespace saggar {

std::shared_ptr<const AnswerBook::Answer> AnswerBook::find(const ContentId& asked) {
    const std::lock_guard lock(mutex_);
    std::shared_ptr<const Answer> found;
    if (const auto it = recent_.find(asked); it != recent_.end()) {
        found = it->second;
    } else if (const auto old = earlier_.find(asked); old != earlier_.end()) {
        found = old->second;
        put(asked, found);
    }
    if (found) ++recalled_;
    return found;
}

void AnswerBook::keep(const ContentId& asked, Answer answer) {
    auto kept = std::make_shared<const Answer>(std::move(answer));
    const std::lock_guard lock(mutex_);
    ++worked_out_;
    put(asked, std::move(kept));
}

void AnswerBook::put(const ContentId& asked, std::shared_ptr<const Answer> answer) {
    if (recent_.size() >= half_) {
        earlier_ = std::move(recent_);
        recent_.clear();
    }
    recent_[asked] = std::move(answer);
}

std::size_t AnswerBook::worked_out() const {
    const std::lock_guard lock(mutex_);
    return worked_out_;
}

std::size_t AnswerBook::recalled() const {
    const std::lock_guard lock(mutex_);
    return recalled_;
}

}  // namespace saggar
