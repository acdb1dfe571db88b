using System.Numerics;

namespace StateWatch.Simulator;

/// <summary>
/// Pseudo-random numbers that are the same for a seed on every machine and runtime: xoshiro256** (Blackman and Vigna, "Scrambled linear
/// pseudorandom number generators", 2018), its state filled by SplitMix64 as its authors advise. Not for secrets.
/// </summary>
public sealed class SeededNumbers
{
    private ulong _a;
    private ulong _b;
    private ulong _c;
    private ulong _d;

    /// <summary>Starts a sequence.</summary>
    /// <param name="seed">Any number; equal seeds give equal sequences.</param>
    public SeededNumbers(ulong seed)
    {
        _a = SplitMix(ref seed);
        _b = SplitMix(ref seed);
        _c = SplitMix(ref seed);
        _d = SplitMix(ref seed);
    }

    internal SeededNumbers(ulong a, ulong b, ulong c, ulong d) => (_a, _b, _c, _d) = (a, b, c, d);

    /// <summary>The next 64 bits.</summary>
    public ulong Next()
    {
        unchecked
        {
            var result = BitOperations.RotateLeft(_b * 5, 7) * 9;
            var shifted = _b << 17;
            _c ^= _a;
            _d ^= _b;
            _b ^= _c;
            _a ^= _d;
            _c ^= shifted;
            _d = BitOperations.RotateLeft(_d, 45);
            return result;
        }
    }

    /// <summary>The next number from 0 (included) to 1 (excluded), in steps of 2^-53.</summary>
    public double NextUnit() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>The next whole number from 0 to below a bound.</summary>
    /// <param name="bound">At least 1. The numbers are evenly spread but for less than bound / 2^64.</param>
    public int NextBelow(int bound)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(bound);
        return (int)Math.BigMul(Next(), (ulong)bound, out _);
    }

    /// <summary>True with a probability.</summary>
    public bool Chance(double probability) => NextUnit() < probability;

    internal static ulong SplitMix(ref ulong state)
    {
        unchecked
        {
            state += 0x9E37_79B9_7F4A_7C15;
            var mixed = state;
            mixed = (mixed ^ (mixed >> 30)) * 0xBF58_476D_1CE4_E5B9;
            mixed = (mixed ^ (mixed >> 27)) * 0x94D0_49BB_1331_11EB;
            return mixed ^ (mixed >> 31);
        }
    }
}
