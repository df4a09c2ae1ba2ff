#include "kg/store/background.h"

namespace saggar {
namespace {

constexpr std::size_t most_waiting = 2;

}  // namespace

Background::~Background() {
    {
        const std::lock_guard lock(guard_);
        waiting_.clear();
        closing_ = true;
    }
    changed_.notify_all();
    if (thread_.joinable()) thread_.join();
}

void Background::give(std::function<void()> job) {
    std::unique_lock lock(guard_);
    changed_.wait(lock, [this] { return waiting_.size() < most_waiting || failure_; });
    if (failure_) std::rethrow_exception(failure_);
    waiting_.push_back(std::move(job));
    if (!thread_.joinable()) thread_ = std::thread([this] { work(); });
    changed_.notify_all();
}

void Background::finish() {
    std::unique_lock lock(guard_);
    changed_.wait(lock, [this] { return (waiting_.empty() && !busy_) || failure_; });
    if (failure_) std::rethrow_exception(failure_);
}

void Background::work() {
    std::unique_lock lock(guard_);
    for (;;) {
        changed_.wait(lock, [this] { return closing_ || !waiting_.empty(); });
        if (closing_ || failure_) return;
        const std::function<void()> job = std::move(waiting_.front());
        waiting_.pop_front();
        busy_ = true;
        lock.unlock();
        std::exception_ptr failure;
        try {
            job();
        } catch (...) {
            failure = std::current_exception();
        }
        lock.lock();
        busy_ = false;
        if (failure) failure_ = failure;
        changed_.notify_all();
    }
}

}  // namespace saggar
