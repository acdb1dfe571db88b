using StateWatch.Core.Profiles;
using StateWatch.Protocol.Osc;

namespace StateWatch.Core.Desks;

/// <summary>Which invalidations each endpoint's own messages cause, when they bring another value.</summary>
internal static class InvalidationMap
{
    public static int[][] Of(DeskProfile profile)
    {
        var map = new int[profile.Endpoints.Count][];
        Array.Fill(map, []);
        for (var rule = 0; rule < profile.Follow.Invalidations.Count; rule++)
        {
            foreach (var endpoint in profile.Endpoints)
            {
                if (OscPattern.Matches(profile.Follow.Invalidations[rule].On, endpoint.Address))
                    map[endpoint.Id] = [.. map[endpoint.Id], rule];
            }
        }

        return map;
    }
}
