#include "kg/store/background.h"

namespace saggar {
namespace {

constexpr std::size_t most_waiting_bytes = 64 << 20;

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

Background::Ticket Background::give(std::function<void()> job, std::size_t bytes) {
    std::unique_lock lock(guard_);
    changed_.wait(lock, [&] { return waiting_.empty() || waiting_bytes_ + bytes <= most_waiting_bytes || failure_; });
    if (failure_) std::rethrow_exception(failure_);
    waiting_.push_back({std::move(job), bytes});
    waiting_bytes_ += bytes;
    if (!thread_.joinable()) thread_ = std::thread([this] { work(); });
    changed_.notify_all();
    return ++given_;
}

void Background::wait_for(Ticket job) {
    std::unique_lock lock(guard_);
    changed_.wait(lock, [&] { return done_ >= job || failure_; });
    if (failure_) std::rethrow_exception(failure_);
}

void Background::finish() {
    std::unique_lock lock(guard_);
    const Ticket last = given_;
    changed_.wait(lock, [&] { return done_ >= last || failure_; });
    if (failure_) std::rethrow_exception(failure_);
}

void Background::work() {
    std::unique_lock lock(guard_);
    for (;;) {
        changed_.wait(lock, [this] { return closing_ || !waiting_.empty(); });
        if (closing_ || failure_) return;
        std::function<void()> job = std::move(waiting_.front().run);
        waiting_bytes_ -= waiting_.front().bytes;
        waiting_.pop_front();
        changed_.notify_all();
        lock.unlock();
        std::exception_ptr failure;
        try {
            job();
        } catch (...) {
            failure = std::current_exception();
        }
        job = nullptr;  // what it held goes before the next begins
        lock.lock();
        ++done_;
        if (failure) failure_ = failure;
        changed_.notify_all();
    }
}

}  // namespace saggar
