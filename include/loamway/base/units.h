// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_UNITS_H
#define LOAMWAY_BASE_UNITS_H

// Quantities with their unit in the type. A value enters and leaves only through a function that names its
// unit; sums and differences stay within one quantity. Plain value types, safe to share between threads.

#include <compare>
#include <cstdint>

namespace loamway {

template <class Derived>
class Quantity {
public:
    constexpr Quantity() = default;
    friend constexpr auto operator<=>(const Quantity&, const Quantity&) = default;
    friend constexpr Derived operator+(Derived a, Derived b) { return make(a.m_value + b.m_value); }
    friend constexpr Derived operator-(Derived a, Derived b) { return make(a.m_value - b.m_value); }
    friend constexpr Derived operator*(Derived a, double f) { return make(a.m_value * f); }
    friend constexpr Derived operator*(double f, Derived a) { return make(a.m_value * f); }
    friend constexpr Derived operator/(Derived a, double f) { return make(a.m_value / f); }
    friend constexpr double operator/(Derived a, Derived b) { return a.m_value / b.m_value; }
    constexpr Derived& operator+=(Derived b) {
        m_value += b.m_value;
        return static_cast<Derived&>(*this);
    }
    constexpr Derived& operator-=(Derived b) {
        m_value -= b.m_value;
        return static_cast<Derived&>(*this);
    }

protected:
    static constexpr Derived make(double value) {
        Derived d;
        d.m_value = value;
        return d;
    }
    double m_value = 0.0;
};

/// A length on the ground, kept in metres.
class Length : public Quantity<Length> {
public:
    static constexpr Length from_metres(double v) { return make(v); }
    static constexpr Length from_km(double v) { return make(v * 1000.0); }
    static constexpr Length from_mm(double v) { return make(v / 1000.0); }
    static constexpr Length from_decimetres(std::int64_t v) { return make(static_cast<double>(v) / 10.0); }
    [[nodiscard]] constexpr double metres() const { return m_value; }
    [[nodiscard]] constexpr double km() const { return m_value / 1000.0; }
    [[nodiscard]] constexpr double mm() const { return m_value * 1000.0; }
};

/// A span of time, kept in seconds.
class Duration : public Quantity<Duration> {
public:
    static constexpr Duration from_seconds(double v) { return make(v); }
    static constexpr Duration from_minutes(double v) { return make(v * 60.0); }
    static constexpr Duration from_hours(double v) { return make(v * 3600.0); }
    [[nodiscard]] constexpr double seconds() const { return m_value; }
    [[nodiscard]] constexpr double minutes() const { return m_value / 60.0; }
    [[nodiscard]] constexpr double hours() const { return m_value / 3600.0; }
};

/// Speed, kept in metres a second.
class Speed : public Quantity<Speed> {
public:
    static constexpr Speed from_kmh(double v) { return make(v / 3.6); }
    static constexpr Speed from_mps(double v) { return make(v); }
    [[nodiscard]] constexpr double kmh() const { return m_value * 3.6; }
    [[nodiscard]] constexpr double mps() const { return m_value; }
};

/// Mass, kept in kilograms.
class Mass : public Quantity<Mass> {
public:
    static constexpr Mass from_kg(double v) { return make(v); }
    static constexpr Mass from_tonnes(double v) { return make(v * 1000.0); }
    [[nodiscard]] constexpr double kg() const { return m_value; }
    [[nodiscard]] constexpr double tonnes() const { return m_value / 1000.0; }
};

/// Power, kept in kilowatts.
class Power : public Quantity<Power> {
public:
    static constexpr Power from_kw(double v) { return make(v); }
    [[nodiscard]] constexpr double kw() const { return m_value; }
};

/// Temperature in degrees Celsius. Differences are in kelvin and use the same type.
class Temperature : public Quantity<Temperature> {
public:
    static constexpr Temperature from_celsius(double v) { return make(v); }
    [[nodiscard]] constexpr double celsius() const { return m_value; }
};

/// A liquid volume in litres.
class Volume : public Quantity<Volume> {
public:
    static constexpr Volume from_litres(double v) { return make(v); }
    [[nodiscard]] constexpr double litres() const { return m_value; }
};

/// Money in the currency the rates name; never converted.
class Money : public Quantity<Money> {
public:
    static constexpr Money from_units(double v) { return make(v); }
    [[nodiscard]] constexpr double units() const { return m_value; }
};

constexpr Length operator*(Speed v, Duration t) {
    return Length::from_metres(v.mps() * t.seconds());
}
constexpr Duration operator/(Length s, Speed v) {
    return Duration::from_seconds(s.metres() / v.mps());
}

}  // namespace loamway

#endif
