// The prober: presses a damper pedal at irregular times on a real port and stamps the program change that comes back.
//   prober NAME: opens its ports, prints "ready", waits for a line "PRESSES SEED", then prints for each press the
//   microseconds from handing the press over to the first program change heard, or "lost"; then "extra N", the number of
//   program changes that no press asked for. Ends when its standard input does.
#include <RtMidi.h>

#include <atomic>
#include <chrono>
#include <cstdio>
#include <random>
#include <thread>
#include <vector>

using Clock = std::chrono::steady_clock;

static std::atomic<long long> first_answer{0};
static std::atomic<int> answers{0};

static long long now() { return std::chrono::duration_cast<std::chrono::nanoseconds>(Clock::now().time_since_epoch()).count(); }

static void heard(double, std::vector<unsigned char> *message, void *) {
    if ((*message)[0] == 0xC0) {
        if (answers.fetch_add(1) == 0) first_answer.store(now());
    }
}

int main(int, char **arguments) {
    RtMidiIn ear(RtMidi::UNIX_JACK, arguments[1]);
    RtMidiOut mouth(RtMidi::UNIX_JACK, arguments[1]);
    ear.setCallback(&heard);
    ear.openVirtualPort("in");
    mouth.openVirtualPort("out");
    std::puts("ready");
    std::fflush(stdout);
    int presses;
    unsigned seed;
    while (std::scanf("%d %u", &presses, &seed) == 2) {
        std::mt19937 chance(seed);
        std::uniform_int_distribution<int> pause_us(40'000, 70'000);  // past the 30 ms in which an edge is a bounce
        int extra = 0;
        const unsigned char down[3] = {0xB0, 64, 127}, up[3] = {0xB0, 64, 0};
        for (int press = 0; press < presses; ++press) {
            answers.store(0);
            first_answer.store(0);
            const long long begun = now();
            mouth.sendMessage(down, 3);
            std::this_thread::sleep_for(std::chrono::microseconds(pause_us(chance)));
            mouth.sendMessage(up, 3);
            std::this_thread::sleep_for(std::chrono::microseconds(pause_us(chance)));
            const int heard_now = answers.load();
            if (heard_now == 0) std::puts("lost");
            else std::printf("%.1f\n", (first_answer.load() - begun) / 1000.0);
            if (heard_now > 1) extra += heard_now - 1;
        }
        std::printf("extra %d\n", extra);
        std::fflush(stdout);
    }
    return 0;
}
